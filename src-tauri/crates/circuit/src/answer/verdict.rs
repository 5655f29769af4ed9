//! May a module be called the cause, and what is missing before it may.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::overturn::Overturn;
use crate::answer::reason::Reason;

/// May the module be called the cause?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ModuleVerdict {
    /// Module id.
    pub module: String,
    /// True only when nothing is missing.
    pub may_be_called: bool,
    /// Probability that the module is at fault.
    pub probability: f64,
    /// What is missing; empty = may be called.
    pub missing: Vec<Missing>,
    /// Cause ids named together with the module because no reading separates them.
    pub group: Vec<String>,
    /// The readings that did most for or against the module, strongest first.
    #[serde(default, rename = "grounds")]
    pub reasons: Vec<Reason>,
    /// No scan tool reaches the module: its programming may be the cause just as well.
    #[serde(default)]
    pub or_programming: bool,
    /// What would overturn this verdict, most useful first.
    #[serde(default)]
    pub overturned_by: Vec<Overturn>,
}

/// One thing missing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Missing {
    /// Sort.
    pub code: MissingCode,
    /// Evidence id, cause id or observation id it is about.
    pub about: Option<String>,
    /// Test that would fill it.
    pub test: Option<String>,
}

/// Sort of missing evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MissingCode {
    /// A supply wasn't observed while the complaint was present.
    SupplyNotObserved,
    /// A supply was observed and isn't good.
    SupplyNotGood,
    /// A ground wasn't observed while the complaint was present.
    GroundNotObserved,
    /// A ground was observed and isn't good.
    GroundNotGood,
    /// An input wasn't observed (often enough, independently) while the complaint was present.
    InputNotObserved,
    /// An input was observed and isn't good.
    InputNotGood,
    /// The output wasn't observed under load while the complaint was present.
    OutputNotObservedUnderLoad,
    /// An output not measured past its terminal while the complaint was present.
    OutputNotObservedPastTerminal,
    /// The output was observed under load and doesn't fail.
    OutputDoesNotFail,
    /// What hangs on the connector wasn't observed with the module unplugged.
    HarnessNotObserved,
    /// It was observed and isn't good.
    HarnessNotGood,
    /// What the module wants before it commands the output wasn't read by scan tool.
    ConditionsNotRead,
    /// It was read, and something is missing: the module withholds the output.
    ConditionsNotMet,
    /// The output wasn't commanded by a scan tool.
    OutputTestNotDone,
    /// It works when a scan tool commands it.
    OutputTestWorks,
    /// The connector wasn't opened, looked at and tested for grip.
    ConnectorNotInspected,
    /// The connector was found damaged.
    ConnectorNotClean,
    /// The failing reading wasn't repeated, leads placed anew, after the connector was looked at.
    FailingReadingNotRepeated,
    /// Probability below what a call needs.
    ProbabilityTooLow,
    /// Another cause is more probable than a call allows.
    RivalTooLikely,
    /// A cause outside the module can't be separated from it by any reading.
    NotSeparable,
    /// Readings contradict each other.
    ReadingsContradict,
}
