//! A meter: what it does to the circuit and how far its display can be off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::observation::MeasureMode;

/// Accuracy as meter manuals print it: ±(percent of reading + counts), taken as a 95 % bound.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Accuracy {
    /// Percent of the reading.
    pub percent: f64,
    /// Number of counts.
    pub counts: f64,
    /// One count in the unit of the mode (V, ohm, A).
    pub count_size: f64,
}

impl Accuracy {
    /// Standard deviation at a reading, in the unit of the reading: the 95 % bound divided by 1.96.
    #[must_use]
    pub fn sigma(&self, reading: f64) -> f64 {
        (self.percent / 100.0 * reading.abs() + self.counts * self.count_size) / 1.96
    }
}

/// A meter's profile.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Meter {
    /// The shop's name for it.
    pub name: String,
    /// Input resistance in DC volts, ohm (10 Mohm on most).
    pub volts_input_ohms: f64,
    /// Input resistance of the low-impedance mode, ohm; absent = the meter has none.
    pub low_impedance_ohms: Option<f64>,
    /// Resistance of the ampere input with its leads, ohm.
    pub amps_input_ohms: f64,
    /// Highest resistance it can show, ohm; above it the display says over-limit.
    pub ohms_limit: f64,
    /// Resistance of the leads themselves in ohms mode, ohm, where it isn't taken off.
    pub lead_ohms: f64,
    /// DC volts.
    pub volts_accuracy: Accuracy,
    /// Ohms.
    pub ohms_accuracy: Accuracy,
    /// DC amperes.
    pub amps_accuracy: Accuracy,
    /// DC millivolts.
    #[serde(default = "millivolts")]
    pub millivolts_accuracy: Accuracy,
    /// Highest volts it can show in millivolts.
    #[serde(default = "millivolts_limit")]
    pub millivolts_limit: f64,
    /// Clamp-on amperes.
    #[serde(default = "clamp")]
    pub clamp_accuracy: Accuracy,
    /// Duty, percent.
    #[serde(default = "duty")]
    pub duty_accuracy: Accuracy,
}

impl Meter {
    /// Accuracy in a mode; nothing for looks and questions.
    #[must_use]
    pub const fn accuracy(&self, mode: MeasureMode) -> Option<Accuracy> {
        match mode {
            MeasureMode::VoltsDc | MeasureMode::VoltsLowImpedance => Some(self.volts_accuracy),
            MeasureMode::Ohms => Some(self.ohms_accuracy),
            MeasureMode::Amps => Some(self.amps_accuracy),
            MeasureMode::MillivoltsDc => Some(self.millivolts_accuracy),
            MeasureMode::AmpsClamp => Some(self.clamp_accuracy),
            MeasureMode::Duty => Some(self.duty_accuracy),
            MeasureMode::Look | MeasureMode::YesNo => None,
        }
    }
}

/// ±(0.5 % + 2 counts) of 0.1 mV (typical, from memory).
const fn millivolts() -> Accuracy {
    Accuracy { percent: 0.5, counts: 2.0, count_size: 0.0001 }
}

/// A 600 mV range (typical, from memory).
const fn millivolts_limit() -> f64 {
    0.6
}

/// ±(2 % + 5 counts) of 0.1 A (typical of a clamp for direct current, from memory).
const fn clamp() -> Accuracy {
    Accuracy { percent: 2.0, counts: 5.0, count_size: 0.1 }
}

/// ±(1 % + 5 counts) of 0.1 percent (typical, from memory).
const fn duty() -> Accuracy {
    Accuracy { percent: 1.0, counts: 5.0, count_size: 0.1 }
}

impl Default for Meter {
    /// An ordinary meter: 10 Mohm (two meter manuals), ±(0.5 % + 2 counts) (typical, from memory), leads
    /// 0.2 ohm (meter manual: 0.1 to 0.3 ohm), 3 kohm low-impedance mode.
    fn default() -> Self {
        Self {
            name: "ordinary meter".to_owned(),
            volts_input_ohms: 10e6,
            low_impedance_ohms: Some(3e3),
            amps_input_ohms: 0.05,
            ohms_limit: 40e6,
            lead_ohms: 0.2,
            volts_accuracy: Accuracy { percent: 0.5, counts: 2.0, count_size: 0.01 },
            ohms_accuracy: Accuracy { percent: 1.0, counts: 3.0, count_size: 0.1 },
            amps_accuracy: Accuracy { percent: 1.5, counts: 3.0, count_size: 0.01 },
            millivolts_accuracy: millivolts(),
            millivolts_limit: millivolts_limit(),
            clamp_accuracy: clamp(),
            duty_accuracy: duty(),
        }
    }
}
