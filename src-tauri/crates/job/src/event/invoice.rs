use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{AGREED, Descriptor, Field};
use evidence::Digest;
use money::{Cents, Estimate, Invoice, Line, MoneyError, TaxBasis, TaxRate, Taxation, Totals};
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
    /// The shop's number for its tax, as it stood when the bill was written, for the page to print: VAT number, NIF, RFC …
    /// What it is called there says the region's `locale.seller_number`. Empty on older bills.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub seller_number: String,
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
    /// The prices have the tax in them, as on the invoice.
    #[serde(default, skip_serializing_if = "money::is_on_top")]
    pub tax_included: bool,
    /// Totals of the credited lines.
    pub totals: Totals,
    /// The shop's number for its tax, as on [`InvoiceKept`].
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub seller_number: String,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
}

impl CreditNoteKept {
    /// How its tax is reckoned: as that of its invoice.
    #[must_use]
    pub fn taxation(&self) -> Taxation {
        Taxation { rate: self.tax_rate, basis: self.tax_basis, included: self.tax_included }
    }
}

/// The totals that were shown are those of the lines.
fn same_totals(lines: &[Line], taxation: Taxation, shown: &Totals) -> Result<(), Unusable> {
    let computed = taxation.totals(lines);
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
        same_totals(&estimate.lines, estimate.taxation(), &self.totals)
    }

    fn admissible(&self) -> Result<(), Unusable> {
        admissible(self.estimate.check())
    }
}

impl RecordKind for InvoiceKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "invoice_kept",
        &[
            Field::public("invoice"),
            Field::public("totals"),
            Field::public("approved"),
            Field::public("seller_number"),
        ],
    );

    fn check(&self) -> Result<(), Unusable> {
        let invoice = &self.invoice;
        same_totals(&invoice.lines, invoice.taxation(), &self.totals)
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
            Field::public("tax_included"),
            Field::public("totals"),
            Field::public("seller_number"),
            Field::withheld("reason", AGREED),
        ],
    )
    .signed();

    fn check(&self) -> Result<(), Unusable> {
        same_totals(&self.lines, self.taxation(), &self.totals)
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
