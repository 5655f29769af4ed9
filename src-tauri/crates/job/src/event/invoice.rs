use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{Descriptor, Field};
use money::MoneyError;
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

/// The totals that were shown are those of the lines, and nobody owes less than nothing.
fn sums(
    checked: Result<(), MoneyError>,
    computed: Result<Totals, MoneyError>,
    shown: &Totals,
) -> Result<(), Unusable> {
    let computed = checked.and(computed).map_err(|error| Unusable::new("lines", error.to_string()))?;
    if computed == *shown { Ok(()) } else { Err(Unusable::new("totals", "they are not those of the lines")) }
}

impl RecordKind for EstimateKept {
    const DESCRIPTOR: Descriptor =
        Descriptor::new("estimate_kept", &[Field::public("estimate"), Field::public("totals")]);

    fn check(&self) -> Result<(), Unusable> {
        sums(self.estimate.check(), self.estimate.totals(), &self.totals)
    }
}

impl RecordKind for InvoiceKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "invoice_kept",
        &[Field::public("invoice"), Field::public("totals"), Field::public("approved")],
    );

    fn check(&self) -> Result<(), Unusable> {
        check::amount("approved", self.approved)?;
        sums(self.invoice.check(), self.invoice.totals(), &self.totals)
    }
}
