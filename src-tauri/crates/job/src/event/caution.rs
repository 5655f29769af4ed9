use super::RecordKind;
use super::descriptor::{Descriptor, Field};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A caution was read and acknowledged; once per job.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CautionAcknowledged {
    /// Caution code.
    pub caution: String,
}

/// "Can't reach it": the test is not offered any more, or is again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestUnreachable {
    /// Test id.
    pub test: String,
    /// True when it can't be reached.
    pub unreachable: bool,
}

impl RecordKind for CautionAcknowledged {
    const DESCRIPTOR: Descriptor = Descriptor::new("caution_acknowledged", &[Field::public("caution")]);
}

impl RecordKind for TestUnreachable {
    const DESCRIPTOR: Descriptor =
        Descriptor::new("test_unreachable", &[Field::public("test"), Field::public("unreachable")]);
}
