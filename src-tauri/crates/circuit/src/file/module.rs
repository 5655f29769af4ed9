//! What must be observed before a module may be called the cause.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::text::Text;

/// A module of the circuit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Module {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Name in the drawing: at most two lines of ten letters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<Text>,
    /// Parts that are inside it.
    pub components: Vec<String>,
    /// Supplies, grounds, inputs, outputs, outputs past their terminals, wires alone, each with the tests that show it.
    pub evidence: Vec<EvidenceNeed>,
    /// The look at its connector (opened, looked at, terminal grip tested): "no damage" is good.
    pub inspection: String,
}

/// One thing to observe.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EvidenceNeed {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Sort.
    pub code: EvidenceCode,
    /// Tests that show it.
    pub tests: Vec<String>,
    /// How many different ones of these tests are wanted (inputs read by scan tool: two).
    pub looks: usize,
}

/// Sort of evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EvidenceCode {
    /// A feed into the module: must be good.
    Supply,
    /// A ground of the module: must be good.
    Ground,
    /// What the module needs to be asked: must be good.
    Input,
    /// Its output while loaded: must fail, and fail again after the connector was looked at.
    OutputUnderLoad,
    /// Its output through test leads that take the place of its terminals: must fail too, or a loose terminal that the
    /// look missed may be it. Done after the look it also is the failing reading taken again.
    PastTerminal,
    /// What hangs on its connector, with the module unplugged: must be good, or a path there may be what makes the
    /// output fail.
    Harness,
    /// What the module wants before it commands the output, read by scan tool: must be met, or it withholds the output and
    /// is good.
    Conditions,
    /// Its output commanded by a scan tool: must fail too, or the module can do it and isn't asked.
    OutputTest,
}
