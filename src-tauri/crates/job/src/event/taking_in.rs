use super::RecordKind;
use super::descriptor::{Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The owner took in records at the end of this device's log that nobody had signed for when they were sealed: from
/// before records were signed one by one, or of unknown origin. This record's own signature covers them from here on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RecordsTakenIn {
    /// Place of the first of them in the log, from 0.
    pub first: u32,
    /// How many.
    pub count: u32,
    /// Leaf hash of the last of them.
    pub last: Digest,
}

impl RecordKind for RecordsTakenIn {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "records_taken_in",
        &[Field::public("first"), Field::public("count"), Field::public("last")],
    );
}
