//! Parts whose current follows one straight line up to a knee and another beyond it: diodes, lamps, motors that start
//! to turn, constant draws.
//!
//! Each line is a resistance beside a current source, so that the circuit stays linear while nothing crosses a knee.
//! Lines only rise, so that whatever the others do, the circuit has one solution.

use crate::file::component::ComponentKind;
use crate::file::layout::SubstituteLoad;

/// Volts at which lamps and motors are rated.
const RATED_VOLTS: f64 = 12.0;
/// A filament is hot from this share of its rated volts: with a cold resistance of a tenth, the line from there to the
/// rated point stays within 20 % of current ∝ volts^0.55 (common practice for filament lamps; computed).
const LAMP_KNEE: f64 = 0.02;
/// A motor starts to turn at this share of its working current (judgement).
const MOTOR_KNEE: f64 = 0.3;
/// A constant draw rises by this share of its knee's slope beyond the knee; a source without any slope leaves a
/// circuit without a solution.
const DRAW_SLOPE: f64 = 1e-3;

/// A knee and the resistance on both sides of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bend {
    /// Volts at the knee.
    pub volts: f64,
    /// Ohm below it.
    pub below: f64,
    /// Ohm beyond it.
    pub beyond: f64,
    /// The same backwards.
    pub both_ways: bool,
}

/// On which line a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Below,
    Beyond,
    Backwards,
}

/// A resistance and the current beside it, both from the part's first end to its second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Line {
    pub ohms: f64,
    pub amps: f64,
}

impl Bend {
    /// The bend of a part; nothing for parts with one straight line.
    pub fn of(kind: &ComponentKind) -> Option<Self> {
        match *kind {
            ComponentKind::Diode { drop_volts, on_ohms, off_ohms, .. } => {
                Some(Self { volts: drop_volts, below: off_ohms, beyond: on_ohms, both_ways: false })
            }
            ComponentKind::Lamp { ohms, cold_ohms: Some(cold), .. } => Some(Self::filament(ohms, cold)),
            ComponentKind::Motor { ohms, stalled_ohms: Some(stalled), .. } => {
                let knee = MOTOR_KNEE * RATED_VOLTS / ohms * stalled;
                Some(Self::through_rating(ohms, stalled, knee))
            }
            ComponentKind::CurrentDraw { amps, least_volts, .. } => {
                let below = least_volts / amps;
                Some(Self { volts: least_volts, below, beyond: below / DRAW_SLOPE, both_ways: false })
            }
            _ => None,
        }
    }

    /// The bend of a load that is put in.
    pub fn of_load(load: &SubstituteLoad) -> Option<Self> {
        load.cold_ohms.map(|cold| Self::filament(load.ohms, cold))
    }

    fn filament(hot: f64, cold: f64) -> Self {
        Self::through_rating(hot, cold, LAMP_KNEE * RATED_VOLTS)
    }

    /// From a knee on a first resistance straight to the rated point.
    fn through_rating(rated_ohms: f64, below: f64, volts: f64) -> Self {
        let rise = RATED_VOLTS / rated_ohms - volts / below;
        Self { volts, below, beyond: (RATED_VOLTS - volts) / rise, both_ways: true }
    }

    /// All resistances times a factor.
    pub fn scaled(self, factor: f64) -> Self {
        Self { below: self.below * factor, beyond: self.beyond * factor, ..self }
    }

    fn knee_amps(&self) -> f64 {
        self.volts / self.below
    }

    /// Its line on one side, with a resistance in series.
    pub fn line(&self, side: Side, added_ohms: f64) -> Line {
        let ohms = self.beyond + added_ohms;
        let amps = (self.knee_amps() * self.beyond - self.volts) / ohms;
        match side {
            Side::Below => Line { ohms: self.below + added_ohms, amps: 0.0 },
            Side::Beyond => Line { ohms, amps },
            Side::Backwards => Line { ohms, amps: -amps },
        }
    }

    /// The side on which it is with so many volts across it and the resistance in series.
    pub fn side(&self, volts: f64, added_ohms: f64) -> Side {
        let knee = self.volts + self.knee_amps() * added_ohms;
        if volts >= knee {
            Side::Beyond
        } else if self.both_ways && volts <= -knee {
            Side::Backwards
        } else {
            Side::Below
        }
    }
}

impl Line {
    /// Current from the first end to the second.
    pub fn amps_at(&self, volts: f64) -> f64 {
        volts / self.ohms + self.amps
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_meet_at_the_knee_with_any_resistance_in_series() {
        let parts = [
            ComponentKind::Diode {
                from: String::new(),
                to: String::new(),
                drop_volts: 0.7,
                on_ohms: 0.05,
                off_ohms: 1e6,
            },
            ComponentKind::Lamp { from: String::new(), to: String::new(), ohms: 6.9, cold_ohms: Some(0.69) },
            ComponentKind::Motor {
                from: String::new(),
                to: String::new(),
                ohms: 0.8,
                stalled_ohms: Some(0.15),
            },
            ComponentKind::CurrentDraw {
                from: String::new(),
                to: String::new(),
                amps: 0.02,
                least_volts: 5.0,
            },
        ];
        for bend in parts.iter().filter_map(Bend::of) {
            for added in [0.0, 3.0, 500.0] {
                let knee = bend.volts + bend.knee_amps() * added;
                let (below, beyond) = (bend.line(Side::Below, added), bend.line(Side::Beyond, added));
                assert!((below.amps_at(knee) - beyond.amps_at(knee)).abs() < 1e-9, "{bend:?}");
                assert!(bend.beyond > 0.0 && beyond.ohms > 0.0);
            }
        }
    }

    /// Filament lamps: current ∝ volts^0.55 (common practice); the two lines stay near it.
    #[test]
    fn a_lamp_follows_the_usual_power_law() {
        let bend = Bend::filament(12.0, 1.2);
        assert!((bend.line(Side::Beyond, 0.0).amps_at(12.0) - 1.0).abs() < 1e-12);
        for volts in [1.0, 2.0, 4.0, 8.0, 14.0] {
            let law = (volts / 12.0_f64).powf(0.55);
            let amps = bend.line(bend.side(volts, 0.0), 0.0).amps_at(volts);
            assert!((amps / law - 1.0).abs() < 0.20, "{volts} V: {amps} against {law}");
        }
    }
}
