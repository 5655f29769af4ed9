use evidence::Digest;
use money::{Cents, Condition};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A part as it was received, with its receipt.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartReceived {
    /// Supplier: a business.
    pub supplier: String,
    /// Part number.
    pub part_number: String,
    /// Description.
    pub description: String,
    /// Condition.
    pub condition: Condition,
    /// Price paid.
    pub price: Cents,
    /// Core charge.
    pub core_charge: Cents,
    /// Return terms. Withheld.
    #[serde(default)]
    pub return_terms: String,
    /// Warranty. Withheld.
    #[serde(default)]
    pub warranty: String,
    /// Photos of part and receipt.
    pub photos: Vec<Digest>,
}
