//! A meter: what it does to the circuit and how far its display can be off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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
        }
    }
}
