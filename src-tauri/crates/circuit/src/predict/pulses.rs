//! What a display of duty shows: the share of the time in which the volts between the leads are high.
//!
//! A resistive load takes what the driver gives at each moment. A winding keeps its current between the pulses: while the driver
//! is on, its resistance and all between them drop what that current makes, and while it is off the diode beside the
//! load holds its side 0.7 V beyond the other end. So the volts swing by more than the average tells, and by as much at a weak driver's
//! far end (R. W. Erickson, D. Maksimović, Fundamentals of Power Electronics, chapter 2: constant current in the winding).

use crate::file::component::ComponentKind;
use crate::file::fault::FaultMode;
use crate::predict::reading::{Predicted, View};
use crate::solve::element::Element;
use crate::solve::part::{FREEWHEEL_VOLTS, Failing, Moment, Own, Part, Position};
use crate::solve::settle::settle;
use crate::solve::wiring::Setting;

/// Every duty display counts as high what lies above the one and as low what lies below the other; volts that swing by
/// less than the last it doesn't see. What lies between some meters count and others don't (judgment).
const HIGH_VOLTS: f64 = 4.0;
const LOW_VOLTS: f64 = 1.5;
const NO_SWING: f64 = 0.3;

impl View<'_, '_> {
    /// Share of the time the volts are high, percent.
    pub(super) fn duty(&self, red: usize, black: usize) -> Predicted {
        let mut parts = self.wiring.parts.iter().enumerate().filter(|(i, _)| self.is_on(*i));
        let pulsed = parts.find_map(|(i, part)| {
            let duty = part.pulses(Own { faults: self.faults, part: i }, self.setting.moment)?;
            Some((i, part, duty))
        });
        let Some((i, part, duty)) = pulsed else { return Predicted::OverLimit };
        let levels = if self.position(i) == Position::Freewheeling {
            self.around_the_winding((i, part, duty), red, black)
        } else {
            let volts = |moment| self.volts_at(moment, self.faults, (red, black));
            volts(Moment::On).zip(volts(Moment::Off))
        };
        match levels {
            Some((on, off)) if on > HIGH_VOLTS && off < LOW_VOLTS => Predicted::plain(duty * 100.0),
            Some((on, off)) if off > HIGH_VOLTS && on < LOW_VOLTS => Predicted::plain((1.0 - duty) * 100.0),
            Some((on, off)) if (on - off).abs() > NO_SWING => Predicted::Anything,
            _ => Predicted::OverLimit,
        }
    }

    /// Volts while the driver is on and while it is off, with the winding's current as it is on the average. How much of the
    /// driver's swing the leads see is what they see of it with every winding open: nothing else changes the current then.
    fn around_the_winding(
        &self,
        (i, part, duty): (usize, &Part<'_>, f64),
        red: usize,
        black: usize,
    ) -> Option<(f64, f64)> {
        let own = Own { faults: self.faults, part: i };
        let Element::Pulsed { plus, minus, .. } = part.pulsed(own, self.setting.moment, self.position(i))?
        else {
            return None;
        };
        let solved = &self.settled.solved;
        let swing = (FREEWHEEL_VOLTS + solved.between(plus, minus)?) / duty;
        let open: Vec<Failing> = self.faults.iter().copied().chain(self.open_windings()).collect();
        let moved =
            |ends| Some(self.volts_at(Moment::On, &open, ends)? - self.volts_at(Moment::Off, &open, ends)?);
        let of_driver = moved((plus, minus)).filter(|volts| volts.abs() > NO_SWING)?;
        let seen = moved((red, black))? / of_driver * swing;
        let average = solved.between(red, black)?;
        Some((average + (1.0 - duty) * seen, average - duty * seen))
    }

    fn open_windings(&self) -> impl Iterator<Item = Failing> + '_ {
        let parts = self.wiring.parts.iter().enumerate();
        let winds = |part: &Part<'_>| {
            matches!(part.component.kind, ComponentKind::Coil { .. } | ComponentKind::Motor { .. })
        };
        let open = |(part, _)| Failing { part, mode: FaultMode::Open, severity: 0.0, at: 0 };
        parts.filter(move |(_, part)| winds(part)).map(open)
    }

    fn volts_at(&self, moment: Moment, faults: &[Failing], (red, black): (usize, usize)) -> Option<f64> {
        let setting = Setting { moment, ..self.setting.clone() };
        settle(self.wiring, &setting, faults).ok()?.solved.between(red, black)
    }
}
