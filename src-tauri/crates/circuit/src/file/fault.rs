//! The ways a part fails.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Sort of fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FaultMode {
    /// Added series resistance, ohm, log-uniform between `min` and `max` (corrosion, loose terminal).
    HighResistance,
    /// No connection at all (broken wire, blown fuse, burnt coil).
    Open,
    /// A resistance from one end to ground, ohm, log-uniform.
    ShortToGround,
    /// A resistance from one end to the battery feed, ohm, log-uniform.
    ShortToFeed,
    /// Switch or relay contact that never closes.
    StuckOpen,
    /// Switch or relay contact that never opens.
    StuckClosed,
    /// Driver that never switches on, and has no off-state bias left.
    Dead,
    /// Driver that its module withholds: a condition of the output isn't met, or the software is old. It stays off, with its
    /// off-state bias, and works when a scan tool commands it. The module itself is good.
    NotCommanded,
    /// Driver that is never switched on, whatever commands it, a scan tool too; its off-state bias is there.
    Unresponsive,
    /// Driver that doesn't switch on and leaks: a resistance in its place at all times, ohm, log-uniform.
    Leaks,
    /// Driver that is always on.
    AlwaysOn,
    /// Driver with added on-resistance, ohm, log-uniform.
    Weak,
    /// Battery or regulated voltage between `min` and `max` volts, uniform (discharged, regulator low); AC volts of a pick-up
    /// (its tip is dirty, the gap too wide, teeth are damaged).
    LowVoltage,
    /// Load draws more than it should: its resistance multiplied by a factor between `min` and `max` (below 1).
    DrawsTooMuch,
    /// Mechanical fault: the part doesn't move; a motor then draws what it draws standing still.
    Jammed,
    /// A resistance across the part's two ends, ohm, log-uniform (turns shorted, wires chafed together, burnt diode).
    ShortAcross,
    /// Pulsed driver that is on for less of the time than asked: factor on its duty between `min` and `max` (below 1).
    LowDuty,
}

impl FaultMode {
    /// Has a severity that is integrated over.
    #[must_use]
    pub const fn has_severity(self) -> bool {
        matches!(
            self,
            Self::HighResistance
                | Self::ShortToGround
                | Self::ShortToFeed
                | Self::Weak
                | Self::Leaks
                | Self::LowVoltage
                | Self::DrawsTooMuch
                | Self::ShortAcross
                | Self::LowDuty
        )
    }

    /// The name it has in data files.
    pub(crate) const fn code(self) -> &'static str {
        match self {
            Self::HighResistance => "high_resistance",
            Self::Open => "open",
            Self::ShortToGround => "short_to_ground",
            Self::ShortToFeed => "short_to_feed",
            Self::StuckOpen => "stuck_open",
            Self::StuckClosed => "stuck_closed",
            Self::Dead => "dead",
            Self::NotCommanded => "not_commanded",
            Self::Unresponsive => "unresponsive",
            Self::Leaks => "leaks",
            Self::AlwaysOn => "always_on",
            Self::Weak => "weak",
            Self::LowVoltage => "low_voltage",
            Self::DrawsTooMuch => "draws_too_much",
            Self::Jammed => "jammed",
            Self::ShortAcross => "short_across",
            Self::LowDuty => "low_duty",
        }
    }
}

/// Where a prior comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Our judgment, no source.
    #[serde(rename = "judgement")]
    Judgment,
    /// A named source.
    Source(String),
}

/// One way one part fails, as written in the circuit file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FaultSpec {
    /// Sort of fault.
    pub mode: FaultMode,
    /// Lowest severity (ohm, volt or factor, by mode); absent for modes without one.
    #[serde(default)]
    pub min: Option<f64>,
    /// Highest severity.
    #[serde(default)]
    pub max: Option<f64>,
    /// End at which a short sits, one of the part's own points; absent = its first point.
    #[serde(default)]
    pub at: Option<String>,
    /// Prior odds against the other faults of the circuit (any positive scale).
    pub odds: f64,
    /// Where the odds come from.
    pub basis: Basis,
    /// Share of such faults that come and go, 0 to 1.
    #[serde(default)]
    pub comes_and_goes: f64,
}

/// One definite fault, for the solver.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fault {
    /// Which part.
    pub component: String,
    /// Which way.
    pub mode: FaultMode,
    /// Ohm, volt or factor, by mode; ignored by modes without severity.
    pub severity: f64,
    /// Point at which a short sits; absent = the part's first point.
    #[serde(default)]
    pub at: Option<String>,
}
