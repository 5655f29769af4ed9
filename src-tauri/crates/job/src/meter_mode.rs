//! What a meter is set to, as records spell it.

use circuit::MeasureMode;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What the meter was set to, or how it was looked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum MeterMode {
    /// Volts, direct current.
    VoltsDc,
    /// Volts in the low-impedance mode.
    VoltsLowImpedance,
    /// Ohms.
    Ohms,
    /// Amps through the meter.
    AmpsDc,
    /// Millivolts, direct current.
    MillivoltsDc,
    /// Amps by a clamp.
    AmpsClamp,
    /// Duty cycle.
    Duty,
    /// Volts, alternating current.
    VoltsAc,
    /// Frequency.
    Hertz,
    /// Continuity: yes = it beeps.
    Continuity,
    /// A look, without the meter.
    Look,
    /// A question answered yes or no, without the meter.
    YesNo,
}

impl MeterMode {
    /// True when nothing is measured: a look, or a question.
    #[must_use]
    pub const fn is_seen(self) -> bool {
        matches!(self, Self::Look | Self::YesNo)
    }

    /// True where the answer is yes or no: what is seen, and a beep.
    #[must_use]
    pub const fn is_answered(self) -> bool {
        self.is_seen() || matches!(self, Self::Continuity)
    }

    /// True for volts in either mode.
    #[must_use]
    pub const fn is_volts(self) -> bool {
        matches!(self, Self::VoltsDc | Self::VoltsLowImpedance)
    }
}

impl From<MeterMode> for MeasureMode {
    fn from(mode: MeterMode) -> MeasureMode {
        match mode {
            MeterMode::VoltsDc => MeasureMode::VoltsDc,
            MeterMode::VoltsLowImpedance => MeasureMode::VoltsLowImpedance,
            MeterMode::Ohms => MeasureMode::Ohms,
            MeterMode::AmpsDc => MeasureMode::Amps,
            MeterMode::MillivoltsDc => MeasureMode::MillivoltsDc,
            MeterMode::AmpsClamp => MeasureMode::AmpsClamp,
            MeterMode::Duty => MeasureMode::Duty,
            MeterMode::VoltsAc => MeasureMode::VoltsAc,
            MeterMode::Hertz => MeasureMode::Hertz,
            MeterMode::Continuity => MeasureMode::Continuity,
            MeterMode::Look => MeasureMode::Look,
            MeterMode::YesNo => MeasureMode::YesNo,
        }
    }
}

impl From<MeasureMode> for MeterMode {
    fn from(mode: MeasureMode) -> MeterMode {
        match mode {
            MeasureMode::VoltsDc => MeterMode::VoltsDc,
            MeasureMode::VoltsLowImpedance => MeterMode::VoltsLowImpedance,
            MeasureMode::Ohms => MeterMode::Ohms,
            MeasureMode::Amps => MeterMode::AmpsDc,
            MeasureMode::MillivoltsDc => MeterMode::MillivoltsDc,
            MeasureMode::AmpsClamp => MeterMode::AmpsClamp,
            MeasureMode::Duty => MeterMode::Duty,
            MeasureMode::VoltsAc => MeterMode::VoltsAc,
            MeasureMode::Hertz => MeterMode::Hertz,
            MeasureMode::Continuity => MeterMode::Continuity,
            MeasureMode::Look => MeterMode::Look,
            MeasureMode::YesNo => MeterMode::YesNo,
        }
    }
}
