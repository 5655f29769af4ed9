//! What each sort of part is made of: its ends, its numbers, the ways it can fail.

use crate::file::component::{Component, ComponentKind, Conditions, Need};
use crate::file::fault::FaultMode;
use crate::file::observation::State;

/// IEC 60228 class 5 plain copper at 20 °C, mm² → highest mohm/m (published table, seen).
const CLASS_5: [(f64, f64); 10] = [
    (0.5, 39.0),
    (0.75, 26.0),
    (1.0, 19.5),
    (1.5, 13.3),
    (2.5, 7.98),
    (4.0, 4.95),
    (6.0, 3.3),
    (10.0, 1.91),
    (16.0, 1.21),
    (25.0, 0.78),
];
/// Copper, per kelvin at 20 °C (from memory, unverified).
const COPPER_PER_KELVIN: f64 = 0.003_93;

/// 0 °C in kelvin.
const KELVIN: f64 = 273.15;

/// Resistance of a copper wire in ohm. Sections between the listed ones scale by area from the next smaller.
#[must_use]
pub fn wire_ohms(length_m: f64, area_mm2: f64, temperature_c: f64) -> f64 {
    let listed = CLASS_5.iter().rev().find(|(area, _)| *area <= area_mm2 * 1.000_001);
    let (area, milliohms) = listed.copied().unwrap_or((0.5, 39.0));
    let at_20 = milliohms / 1000.0 * area / area_mm2 * length_m;
    at_20 * (1.0 + COPPER_PER_KELVIN * (temperature_c - 20.0))
}

/// True when the state satisfies every condition.
#[must_use]
pub fn holds(conditions: &Conditions, state: &State) -> bool {
    conditions
        .iter()
        .all(|(variable, values)| state.get(variable).is_some_and(|value| values.contains(value)))
}

impl Component {
    /// In the circuit in this state?
    #[must_use]
    pub fn is_present(&self, state: &State) -> bool {
        holds(&self.present_when, state)
    }
}

impl ComponentKind {
    /// The part's points, its main two first.
    #[must_use]
    pub fn points(&self) -> Vec<&str> {
        match self {
            Self::Battery { positive, negative, .. } => vec![positive, negative],
            Self::HighSideDriver { supply, output, ground, .. } => vec![supply, output, ground],
            Self::LowSideDriver { supply, output, ground, .. } => vec![output, ground, supply],
            Self::Fuse { from, to, .. }
            | Self::Wire { from, to, .. }
            | Self::Connection { from, to, .. }
            | Self::Switch { from, to, .. }
            | Self::Coil { from, to, .. }
            | Self::Contact { from, to, .. }
            | Self::Lamp { from, to, .. }
            | Self::Motor { from, to, .. }
            | Self::Diode { from, to, .. }
            | Self::Thermistor { from, to, .. }
            | Self::CurrentDraw { from, to, .. }
            | Self::PickUp { from, to, .. }
            | Self::Resistor { from, to, .. }
            | Self::SupplyLoad { from, to, .. } => vec![from, to],
            Self::RegulatedSupply { output, ground, .. } => vec![output, ground],
        }
    }

    /// Numbers that must be above zero.
    pub(crate) fn positive_numbers(&self) -> Vec<f64> {
        match self {
            Self::Battery { volts, volts_spread, internal_ohms, .. } => {
                vec![*volts, *volts_spread, *internal_ohms]
            }
            Self::Fuse { ohms, rating_amps, .. } => vec![*ohms, *rating_amps],
            Self::Wire { length_m, area_mm2, .. } => vec![*length_m, *area_mm2],
            Self::Switch { closed_ohms, .. } => vec![*closed_ohms],
            Self::Coil { ohms, drop_out_volts, .. } => vec![*ohms, *drop_out_volts],
            Self::HighSideDriver { on_ohms, limit_amps, off_pull_up_ohms, off_pull_down_ohms, .. }
            | Self::LowSideDriver { on_ohms, limit_amps, off_pull_up_ohms, off_pull_down_ohms, .. } => {
                let biases = [*off_pull_up_ohms, *off_pull_down_ohms];
                [*on_ohms, *limit_amps].into_iter().chain(biases.into_iter().flatten()).collect()
            }
            Self::Lamp { ohms, cold_ohms: other, .. } | Self::Motor { ohms, stalled_ohms: other, .. } => {
                [Some(*ohms), *other].into_iter().flatten().collect()
            }
            Self::Diode { drop_volts, on_ohms, off_ohms, .. } => vec![*drop_volts, *on_ohms, *off_ohms],
            Self::Thermistor { ohms_25, beta_kelvin, temperature_c, .. } => {
                vec![*ohms_25, *beta_kelvin, temperature_c + KELVIN]
            }
            Self::RegulatedSupply { volts, ohms, limit_amps, .. } => vec![*volts, *ohms, *limit_amps],
            Self::CurrentDraw { amps, least_volts, .. } => vec![*amps, *least_volts],
            Self::PickUp { ohms, volts_ac, volts_ac_percent, hertz, .. } => {
                vec![*ohms, *volts_ac, *volts_ac_percent, *hertz]
            }
            Self::Connection { ohms, .. }
            | Self::Contact { ohms, .. }
            | Self::Resistor { ohms, .. }
            | Self::SupplyLoad { ohms, .. } => vec![*ohms],
        }
    }

    /// What it must see before it works; nothing for parts that ask for nothing.
    pub(crate) fn needs(&self) -> &[Need] {
        match self {
            Self::HighSideDriver { needs, .. }
            | Self::LowSideDriver { needs, .. }
            | Self::RegulatedSupply { needs, .. } => needs,
            _ => &[],
        }
    }

    /// Resistance of a load, ohm; nothing for parts that are no loads.
    #[must_use]
    pub fn load_ohms(&self) -> Option<f64> {
        match self {
            Self::Coil { ohms, .. }
            | Self::Lamp { ohms, .. }
            | Self::Motor { ohms, .. }
            | Self::PickUp { ohms, .. }
            | Self::Resistor { ohms, .. }
            | Self::SupplyLoad { ohms, .. } => Some(*ohms),
            Self::Thermistor { ohms_25, beta_kelvin, temperature_c, .. } => {
                Some(ohms_25 * (beta_kelvin * (1.0 / (temperature_c + KELVIN) - 1.0 / (25.0 + KELVIN))).exp())
            }
            Self::CurrentDraw { amps, least_volts, .. } => Some(least_volts / amps),
            _ => None,
        }
    }

    /// Resistance of a plain two-ended part in its conducting state, ohm.
    #[must_use]
    pub fn healthy_ohms(&self) -> Option<f64> {
        match self {
            Self::Fuse { ohms, .. } | Self::Connection { ohms, .. } | Self::Contact { ohms, .. } => {
                Some(*ohms)
            }
            Self::Wire { length_m, area_mm2, temperature_c, .. } => {
                Some(wire_ohms(*length_m, *area_mm2, *temperature_c))
            }
            Self::Switch { closed_ohms, .. } => Some(*closed_ohms),
            _ => self.load_ohms(),
        }
    }

    /// Share of time a driver is on while commanded; nothing for parts that don't pulse.
    #[must_use]
    pub const fn duty(&self) -> Option<f64> {
        match self {
            Self::HighSideDriver { duty, .. } | Self::LowSideDriver { duty, .. } => *duty,
            _ => None,
        }
    }

    /// Can a part of this sort fail this way?
    pub(crate) fn can_have(&self, mode: FaultMode) -> bool {
        let driver = matches!(self, Self::HighSideDriver { .. } | Self::LowSideDriver { .. });
        let supply = matches!(self, Self::RegulatedSupply { .. });
        let pick_up = matches!(self, Self::PickUp { .. });
        match mode {
            FaultMode::LowVoltage => supply || pick_up || matches!(self, Self::Battery { .. }),
            FaultMode::Dead | FaultMode::Weak => driver || supply,
            FaultMode::NotCommanded | FaultMode::Unresponsive | FaultMode::Leaks | FaultMode::AlwaysOn => {
                driver
            }
            FaultMode::LowDuty => self.duty().is_some(),
            FaultMode::ShortAcross => {
                self.load_ohms().is_some() || matches!(self, Self::Diode { .. } | Self::Switch { .. })
            }
            FaultMode::StuckOpen | FaultMode::StuckClosed => {
                matches!(self, Self::Switch { .. } | Self::Contact { .. })
            }
            FaultMode::DrawsTooMuch => self.load_ohms().is_some(),
            FaultMode::Jammed => matches!(self, Self::Motor { .. } | Self::Coil { .. }),
            FaultMode::HighResistance => !driver && !supply,
            FaultMode::Open => !driver && !supply && !matches!(self, Self::Battery { .. }),
            FaultMode::ShortToGround | FaultMode::ShortToFeed => true,
        }
    }
}
