use super::RecordKind;
use super::descriptor::{Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Personal values of a customer were destroyed on request. What was destroyed can't be named here, only its sort.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CustomerForgotten {
    /// Digests of the disclosures that were destroyed, as they stand in the records.
    pub values: Vec<Digest>,
    /// Photos and reports whose bytes were destroyed; their hashes stay in the records.
    pub files: Vec<Digest>,
    /// Fields that stay for now, and why.
    pub kept: Vec<KeptBack>,
    /// Day from which what stays may be destroyed too ("2032-11-25"); empty when nothing stays.
    #[serde(default)]
    pub until: String,
    /// Region whose rule was applied.
    pub region: String,
}

/// Values of one field that stay.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KeptBack {
    /// Kind of record.
    pub kind: String,
    /// Field.
    pub field: String,
    /// Code of the reason: `retention` (records of repairs must be kept).
    pub why: String,
}

impl RecordKind for CustomerForgotten {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "customer_forgotten",
        &[
            Field::public("values"),
            Field::public("files"),
            Field::public("kept"),
            Field::public("until"),
            Field::public("region"),
        ],
    );
}
