use money::{Cents, Estimate, Invoice, Totals};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One version of the estimate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EstimateKept {
    /// The estimate.
    pub estimate: Estimate,
    /// Its totals as they were shown.
    pub totals: Totals,
}

/// The invoice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InvoiceKept {
    /// The invoice.
    pub invoice: Invoice,
    /// Its totals.
    pub totals: Totals,
    /// Approved total it was held against.
    pub approved: Cents,
}
