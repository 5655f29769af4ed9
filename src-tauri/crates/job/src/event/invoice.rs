use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{AGREED, Descriptor, Field};
use evidence::Digest;
use money::{Cents, Estimate, Invoice, Line, MoneyError, TaxBasis, TaxRate, Totals};
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

/// What an invoice charged and the customer no longer owes: the invoice itself is never changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CreditNoteKept {
    /// Number in the shop's own series of credit notes.
    pub number: String,
    /// Record of the invoice.
    pub invoice: Digest,
    /// What of the invoice is credited: its lines, with as many hours or pieces as are credited.
    pub lines: Vec<Line>,
    /// Sales tax rate of the invoice.
    pub tax_rate: TaxRate,
    /// What its tax was rounded on.
    pub tax_basis: TaxBasis,
    /// Totals of the credited lines.
    pub totals: Totals,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
}

/// The totals that were shown are those of the lines.
fn same_totals(lines: &[Line], rate: TaxRate, basis: TaxBasis, shown: &Totals) -> Result<(), Unusable> {
    let computed = money::totals(lines, rate, basis);
    let computed = computed.map_err(|error| Unusable::new("lines", error.to_string()))?;
    if computed == *shown { Ok(()) } else { Err(Unusable::new("totals", "they are not those of the lines")) }
}

/// What a new estimate or bill may not hold: lines nobody could follow, nobody owing less than nothing.
fn admissible(checked: Result<(), MoneyError>) -> Result<(), Unusable> {
    checked.map_err(|error| Unusable::new("lines", error.to_string()))
}

impl RecordKind for EstimateKept {
    const DESCRIPTOR: Descriptor =
        Descriptor::new("estimate_kept", &[Field::public("estimate"), Field::public("totals")]);

    fn check(&self) -> Result<(), Unusable> {
        let estimate = &self.estimate;
        same_totals(&estimate.lines, estimate.tax_rate, estimate.tax_basis, &self.totals)
    }

    fn admissible(&self) -> Result<(), Unusable> {
        admissible(self.estimate.check())
    }
}

impl RecordKind for InvoiceKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "invoice_kept",
        &[Field::public("invoice"), Field::public("totals"), Field::public("approved")],
    );

    fn check(&self) -> Result<(), Unusable> {
        let invoice = &self.invoice;
        same_totals(&invoice.lines, invoice.tax_rate, invoice.tax_basis, &self.totals)
    }

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("approved", self.approved)?;
        admissible(self.invoice.check())
    }
}

impl RecordKind for CreditNoteKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "credit_note_kept",
        &[
            Field::public("number"),
            Field::public("invoice"),
            Field::public("lines"),
            Field::public("tax_rate"),
            Field::public("tax_basis"),
            Field::public("totals"),
            Field::withheld("reason", AGREED),
        ],
    )
    .signed();

    fn check(&self) -> Result<(), Unusable> {
        same_totals(&self.lines, self.tax_rate, self.tax_basis, &self.totals)
    }

    fn admissible(&self) -> Result<(), Unusable> {
        if self.lines.is_empty() {
            return Err(Unusable::new("lines", MoneyError::NoLines.to_string()));
        }
        if self.lines.iter().any(|line| line.quantity.thousandths() == 0) {
            return Err(Unusable::new(
                "quantity",
                "it is 0: say how much is taken back, or leave the line out",
            ));
        }
        admissible(self.totals.check())
    }
}
