use super::descriptor::{COSTS, Descriptor, Field};
use super::payment::{above_zero, day};
use super::{RecordKind, Unusable};
use evidence::Digest;
use money::Cents;
use money::ledger::{CostKind, Means};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What happened between the shop and a business that supplies it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SupplierStep {
    /// They named a price.
    Quoted,
    /// Both agreed on a price.
    Agreed,
    /// They sent a bill.
    Billed,
    /// The shop paid.
    Paid,
    /// A part or core went back; credit for it is due.
    Returned,
    /// They gave credit for it.
    Credited,
}

/// One step between the shop and a supplier. What the shop pays is the shop's own: no amount of it is public.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SupplierStepKept {
    /// What happened.
    pub step: SupplierStep,
    /// A business. Withheld.
    #[serde(default)]
    pub supplier: String,
    /// What it is for.
    pub what: CostKind,
    /// In words: which part, which work. Withheld.
    #[serde(default)]
    pub description: String,
    /// How much. Withheld.
    #[serde(default)]
    pub amount: Cents,
    /// How it was paid; for payments.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub means: Option<Means>,
    /// Day, `YYYY-MM-DD`, local.
    pub day: String,
    /// Day until which a return is taken or credit is due; empty where nobody said.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub due: String,
    /// Number of the quote, the bill, the check. Withheld.
    #[serde(default)]
    pub reference: String,
    /// Who of the supplier said so. Withheld.
    #[serde(default)]
    pub by: String,
    /// Photos of the paper.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for SupplierStepKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "supplier_step_kept",
        &[
            Field::public("step"),
            Field::withheld("supplier", COSTS),
            Field::public("what"),
            Field::withheld("description", COSTS),
            Field::withheld("amount", COSTS),
            Field::public("means"),
            Field::public("day"),
            Field::public("due"),
            Field::withheld("reference", COSTS),
            Field::withheld("by", COSTS),
            Field::public("photos"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    fn admissible(&self) -> Result<(), Unusable> {
        above_zero(self.amount)?;
        day("day", &self.day)?;
        if !self.due.is_empty() {
            day("due", &self.due)?;
        }
        match (self.step, self.means) {
            (SupplierStep::Paid, None) => Err(Unusable::new("means", "say how it was paid")),
            _ => Ok(()),
        }
    }
}
