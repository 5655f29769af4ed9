pub use money::{Condition, LineKind};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// One line of an estimate or an invoice as typed.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct LineEntry {
    /// Kind.
    #[ts(
        type = "'diagnosis' | 'labour' | 'programming' | 'part' | 'core_charge' | 'core_credit' | 'sublet' | 'supplies' | 'fee' | 'discount'"
    )]
    pub kind: LineKind,
    /// Description.
    pub description: String,
    /// Hours or pieces as typed ("0.8").
    pub quantity: String,
    /// Unit price as typed ("129.99").
    pub unit_price: String,
    /// Part condition: new, used, rebuilt, or empty.
    pub condition: String,
    /// Part number.
    pub part_number: String,
    /// Provider of sublet work.
    pub provider: String,
    /// Taxed.
    pub taxed: bool,
}

/// Which paper lines are typed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum PaperKind {
    /// A new version of the estimate.
    Estimate,
    /// An invoice.
    Invoice,
}

/// A line that the shop wants at hand, or not any more.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct LinePinEntry {
    /// The line as typed.
    pub line: LineEntry,
    /// At hand from now on.
    pub pinned: bool,
}

/// Lines of a new version of the estimate, or of the invoice.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct LinesEntry {
    /// Lines.
    pub lines: Vec<LineEntry>,
}

/// A received part.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PartEntry {
    /// Supplier.
    pub supplier: String,
    /// Part number.
    pub part_number: String,
    /// Description.
    pub description: String,
    /// Condition: new, used, rebuilt.
    #[ts(type = "'new' | 'used' | 'rebuilt'")]
    pub condition: Condition,
    /// Price as typed.
    pub price: String,
    /// Core charge as typed, may be empty.
    pub core_charge: String,
    /// Return terms.
    pub return_terms: String,
    /// Warranty.
    pub warranty: String,
    /// Photos kept before, by hash; at least one.
    pub photos: Vec<String>,
    /// Id of the circuit's module that it is; empty for any other part.
    #[serde(default)]
    pub module: String,
}

/// Hand-over to the customer.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct HandOverEntry {
    /// Warranty terms.
    pub warranty: String,
    /// The warranty in months from this day; empty where it isn't counted so.
    #[serde(default)]
    pub warranty_months: String,
    /// The warranty in miles or kilometers, whichever comes first; empty where it isn't counted so.
    #[serde(default)]
    pub warranty_distance: String,
    /// Odometer at hand-over; empty where nobody read it.
    #[serde(default)]
    pub odometer: String,
    /// What was done with the old parts.
    pub old_parts: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
}
