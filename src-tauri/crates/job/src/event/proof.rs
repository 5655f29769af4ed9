use super::RecordKind;
use super::descriptor::{Descriptor, Field, JUDGES};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The reading that failed, repeated at the same pins in the same state.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FixProven {
    /// Reading before (leaf of its record).
    pub before: Digest,
    /// Reading after (leaf of its record).
    pub after: Digest,
    /// Road test, codes cleared and read again. Withheld.
    #[serde(default)]
    pub note: String,
}

impl RecordKind for FixProven {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "fix_proven",
        &[Field::public("before"), Field::public("after"), Field::withheld("note", JUDGES)],
    );
}
