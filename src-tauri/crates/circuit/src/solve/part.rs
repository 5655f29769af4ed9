//! A part with its own faults: what it is to the rest of the circuit right now.

use crate::file::component::{Component, ComponentKind};
use crate::file::fault::FaultMode;
use crate::solve::bend::{Bend, Line, Side};
use crate::solve::element::Element;
use crate::solve::solved::Solved;

/// Volts across a freewheel diode while it carries the load's current (silicon, common practice).
pub(crate) const FREEWHEEL_VOLTS: f64 = 0.7;
/// From this current on a load keeps its current going through the diode, ampere (judgment).
pub(crate) const FREEWHEEL_AMPS: f64 = 0.01;

/// Parts whose own deviation from the value in the file is kept apart.
pub(crate) const SPREAD: usize = 4;

/// A component with the numbers of its points.
#[derive(Debug)]
pub(crate) struct Part<'a> {
    pub component: &'a Component,
    pub a: usize,
    pub b: usize,
    pub c: usize,
    /// Inner node of a battery, the coil that moves a contact, or the point to which a pulsed low side's load frees its
    /// current.
    pub link: usize,
    /// Healthy resistance, ohm.
    pub ohms: f64,
    pub bend: Option<Bend>,
    /// A pulsed driver's load keeps its current going between the pulses.
    pub winds: bool,
    /// Its place among the loosest parts, whose deviation is kept apart.
    pub spread: Option<usize>,
}

/// A fault with its part and point as numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Failing {
    pub part: usize,
    pub mode: FaultMode,
    pub severity: f64,
    pub at: usize,
}

/// Where a moving or switching part stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Position {
    Rest,
    Working,
    Limited,
    Blown,
    /// A lamp or motor fed backwards.
    Backwards,
    /// A pulsed driver whose load keeps its current going through a diode between the pulses.
    Freewheeling,
}

/// Which moment of a pulsed drive is solved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Moment {
    Average,
    On,
    Off,
}

impl Position {
    pub const fn side(self) -> Side {
        match self {
            Self::Working => Side::Beyond,
            Self::Backwards => Side::Backwards,
            _ => Side::Below,
        }
    }
}

impl Part<'_> {
    /// Does it join these two points, whichever way round?
    pub const fn joins(&self, a: usize, b: usize) -> bool {
        (self.a == a && self.b == b) || (self.a == b && self.b == a)
    }

    /// Can an ampere meter take its place?
    pub const fn can_be_opened(&self) -> bool {
        use ComponentKind as Kind;
        matches!(
            self.component.kind,
            Kind::Fuse { .. } | Kind::Wire { .. } | Kind::Connection { .. } | Kind::Switch { .. }
        )
    }

    /// Its bend as it is now: a jammed motor never starts to turn.
    pub fn bend_now(&self, own: Own<'_>) -> Option<Bend> {
        self.bend.filter(|_| !self.is_stalled(own)).map(|bend| bend.scaled(own.scaled(1.0)))
    }

    pub const fn stalled_ohms(&self) -> Option<f64> {
        match self.component.kind {
            ComponentKind::Motor { stalled_ohms, .. } => stalled_ohms,
            _ => None,
        }
    }

    pub fn is_stalled(&self, own: Own<'_>) -> bool {
        self.stalled_ohms().is_some() && own.has(FaultMode::Jammed)
    }

    /// Resistance and current of a two-ended part on one side of its knee.
    pub fn line(&self, own: Own<'_>, position: Position) -> Line {
        let added = own.added_ohms();
        match self.bend_now(own) {
            Some(bend) => bend.line(position.side(), added),
            None => {
                let ohms = self.stalled_ohms().filter(|_| self.is_stalled(own)).unwrap_or(self.ohms);
                Line { ohms: own.scaled(ohms) + added, amps: 0.0 }
            }
        }
    }

    /// Duty of a driver that pulses at this moment; nothing when it is on all the time.
    pub fn pulses(&self, own: Own<'_>, moment: Moment) -> Option<f64> {
        let duty = self.component.kind.duty().filter(|_| moment == Moment::Average)?;
        let now = duty * own.severity(FaultMode::LowDuty).unwrap_or(1.0);
        (!own.has(FaultMode::AlwaysOn)).then_some(now)
    }

    /// A driver that pulses, as its average. Where a winding hangs on it, the load's current flows all the time, through the driver only while it is on:
    /// its resistance counts by its duty, and the diode takes its volts off the rest of the time (volt-second balance:
    /// R. W. Erickson, D. Maksimović, Fundamentals of Power Electronics, chapter 2).
    pub fn pulsed(&self, own: Own<'_>, moment: Moment, position: Position) -> Option<Element> {
        let gain = self.pulses(own, moment)?;
        let inside = self.driver_ohms() + own.added_ohms();
        let ohms = if self.winds { gain * inside } else { inside };
        let (plus, minus, of_plus, of_minus) = self.pulsed_nodes();
        let drop = if position == Position::Freewheeling { (1.0 - gain) * FREEWHEEL_VOLTS } else { 0.0 };
        Some(Element::Pulsed { plus, minus, of_plus, of_minus, gain, ohms, drop })
    }

    /// The coil's or motor's current goes round through the diode beside it: to ground, or back to the feed. Positive and
    /// negative node of the drive, then of its feed.
    const fn pulsed_nodes(&self) -> (usize, usize, usize, usize) {
        let (_, _, supply, output, ground) = self.driver_nodes();
        match self.component.kind {
            ComponentKind::LowSideDriver { .. } => (self.link, output, self.link, ground),
            _ => (output, ground, supply, ground),
        }
    }

    /// Does a driver's load keep its current going between the pulses? One that draws next to nothing doesn't, nor one that
    /// gets hardly more on average than the diode takes.
    pub fn freewheels(&self, own: Own<'_>, moment: Moment, position: Position, solved: &Solved) -> bool {
        let Some(Element::Pulsed { plus, minus, of_plus, of_minus, gain, ohms, drop }) =
            self.pulsed(own, moment, position)
        else {
            return false;
        };
        let volts = |a, b| solved.between(a, b).unwrap_or(0.0);
        let driven = gain * volts(of_plus, of_minus);
        let amps = (driven - drop - volts(plus, minus)) / ohms;
        if !self.winds {
            return false;
        }
        // What flows without the diode's volts decides; half of it is left with them, so that nothing turns for ever.
        let enough = driven > 2.0 * (1.0 - gain) * FREEWHEEL_VOLTS && amps >= FREEWHEEL_AMPS;
        if position == Position::Freewheeling { amps > 0.0 } else { enough }
    }

    /// Volts and resistance of a regulated supply as it is now.
    pub fn regulated(&self, own: Own<'_>) -> (f64, f64) {
        match self.component.kind {
            ComponentKind::RegulatedSupply { volts, ohms, .. } => {
                (own.severity(FaultMode::LowVoltage).unwrap_or(volts), ohms + own.added_ohms())
            }
            _ => (0.0, 1.0),
        }
    }

    /// From, to, supply, output, ground of a driver: current flows from → to when it is on.
    pub const fn driver_nodes(&self) -> (usize, usize, usize, usize, usize) {
        match self.component.kind {
            // Points of a low-side driver come as output, ground, supply.
            ComponentKind::LowSideDriver { .. } => (self.a, self.b, self.c, self.a, self.b),
            _ => (self.a, self.b, self.a, self.b, self.c),
        }
    }

    pub const fn driver_ohms(&self) -> f64 {
        match self.component.kind {
            ComponentKind::HighSideDriver { on_ohms, .. } | ComponentKind::LowSideDriver { on_ohms, .. } => {
                on_ohms
            }
            _ => self.ohms,
        }
    }
}

/// The faults of one part.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Own<'f> {
    pub faults: &'f [Failing],
    pub part: usize,
}

impl Own<'_> {
    fn all(&self) -> impl Iterator<Item = &Failing> {
        self.faults.iter().filter(|fault| fault.part == self.part)
    }

    pub fn has(&self, mode: FaultMode) -> bool {
        self.all().any(|fault| fault.mode == mode)
    }

    pub fn severity(&self, mode: FaultMode) -> Option<f64> {
        self.all().find(|fault| fault.mode == mode).map(|fault| fault.severity)
    }

    pub fn added_ohms(&self) -> f64 {
        let series = |fault: &&Failing| matches!(fault.mode, FaultMode::HighResistance | FaultMode::Weak);
        self.all().filter(series).map(|fault| fault.severity).sum()
    }

    pub fn scaled(&self, ohms: f64) -> f64 {
        self.severity(FaultMode::DrawsTooMuch).map_or(ohms, |factor| ohms * factor)
    }

    pub fn closed(&self, asked: bool) -> bool {
        (asked || self.has(FaultMode::StuckClosed)) && !self.has(FaultMode::StuckOpen)
    }
}
