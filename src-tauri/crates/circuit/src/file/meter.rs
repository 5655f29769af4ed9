//! A meter: what it does to the circuit and how far its display can be off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::error::CircuitError;
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

    /// What is wrong with it and what to write. A display that is never off by anything would make every other reading
    /// impossible.
    fn problem(&self) -> Option<String> {
        let within = |what: &str, value: f64, least: f64, most: f64| {
            let wrong = !(least..=most).contains(&value);
            wrong.then(|| format!("{what} is {value}: write {least} to {most}"))
        };
        within("percent", self.percent, 0.0, 100.0)
            .or_else(|| within("counts", self.counts, LEAST_COUNTS, 1e5))
            .or_else(|| within("count_size", self.count_size, 1e-12, 1e6))
    }
}

/// Least input resistance of a low-impedance mode, ohm.
const LEAST_INPUT: f64 = 1.0;
/// A display rounds: it is off by half a count at least.
pub const LEAST_COUNTS: f64 = 0.5;

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
    /// AC volts.
    #[serde(default = "volts_ac")]
    pub volts_ac_accuracy: Accuracy,
    /// Hertz.
    #[serde(default = "hertz")]
    pub hertz_accuracy: Accuracy,
    /// Below this it beeps, ohm.
    #[serde(default = "beep_ohms")]
    pub beep_ohms: f64,
}

impl Meter {
    /// Are these values of a meter? Nothing is computed with others.
    ///
    /// # Errors
    /// [`CircuitError::Meter`] with the first value that no meter has, and what to write.
    pub fn check(&self) -> Result<(), CircuitError> {
        let low = self.low_impedance_ohms.unwrap_or(LEAST_INPUT);
        for (field, value, (least, most)) in [
            ("volts_input_ohms", self.volts_input_ohms, (1e3, 1e12)),
            ("low_impedance_ohms", low, (LEAST_INPUT, 1e9)),
            ("amps_input_ohms", self.amps_input_ohms, (1e-6, 1e5)),
            ("ohms_limit", self.ohms_limit, (1.0, 1e12)),
            ("lead_ohms", self.lead_ohms, (0.0, 100.0)),
            ("beep_ohms", self.beep_ohms, (0.1, 1e4)),
            ("millivolts_limit", self.millivolts_limit, (1e-3, 1e3)),
        ] {
            if !(least..=most).contains(&value) {
                return self.refuse(field, format!("{value} is no meter's: write {least} to {most}"));
            }
        }
        for (field, accuracy) in [
            ("volts_accuracy", self.volts_accuracy),
            ("ohms_accuracy", self.ohms_accuracy),
            ("amps_accuracy", self.amps_accuracy),
            ("millivolts_accuracy", self.millivolts_accuracy),
            ("clamp_accuracy", self.clamp_accuracy),
            ("duty_accuracy", self.duty_accuracy),
            ("volts_ac_accuracy", self.volts_ac_accuracy),
            ("hertz_accuracy", self.hertz_accuracy),
        ] {
            if let Some(problem) = accuracy.problem() {
                return self.refuse(field, problem);
            }
        }
        Ok(())
    }

    fn refuse(&self, field: &'static str, problem: String) -> Result<(), CircuitError> {
        Err(CircuitError::Meter { meter: self.name.clone(), field, problem })
    }

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
            MeasureMode::VoltsAc => Some(self.volts_ac_accuracy),
            MeasureMode::Hertz => Some(self.hertz_accuracy),
            MeasureMode::Continuity | MeasureMode::Look | MeasureMode::YesNo => None,
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

/// ±(1 % + 3 counts) of 1 mV (typical below 100 Hz, from memory).
const fn volts_ac() -> Accuracy {
    Accuracy { percent: 1.0, counts: 3.0, count_size: 0.001 }
}

/// ±(0.1 % + 2 counts) of 0.1 Hz (typical, from memory).
const fn hertz() -> Accuracy {
    Accuracy { percent: 0.1, counts: 2.0, count_size: 0.1 }
}

/// About 30 ohm (common practice; meters differ from 10 to 250).
const fn beep_ohms() -> f64 {
    30.0
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
            volts_ac_accuracy: volts_ac(),
            hertz_accuracy: hertz(),
            beep_ohms: beep_ohms(),
        }
    }
}
