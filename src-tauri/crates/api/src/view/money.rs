use super::PhotoView;
use job::event::{Channel, OldParts};
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// One line of an estimate or an invoice.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct LineView {
    /// Kind: diagnosis, labour, part, sublet, core_charge, supplies.
    pub kind: String,
    /// Description.
    pub description: String,
    /// Hours or pieces, decimal.
    pub quantity: String,
    /// Unit price in minor units.
    pub unit_price: String,
    /// Amount in minor units.
    pub amount: String,
    /// Part condition: new, used, rebuilt, or empty.
    pub condition: String,
    /// Part number.
    pub part_number: String,
    /// Provider of sublet work, disclosed on the estimate.
    pub provider: String,
    /// Taxed.
    pub taxed: bool,
}

/// Totals, each in minor units.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct TotalsView {
    /// Parts.
    pub parts: String,
    /// Labour, diagnosis included.
    pub labour: String,
    /// Sublet work.
    pub sublet: String,
    /// Other lines.
    pub other: String,
    /// Tax.
    pub tax: String,
    /// Total.
    pub total: String,
}

/// A version of the estimate.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct EstimateView {
    /// Record.
    pub record: String,
    /// Version, from 1.
    pub version: u32,
    /// Time.
    pub kept: String,
    /// Lines.
    pub lines: Vec<LineView>,
    /// Totals.
    pub totals: TotalsView,
    /// Record of the approval of this version, or empty.
    pub approved_by: String,
}

/// An approval.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ApprovalView {
    /// Record.
    pub record: String,
    /// Version of the estimate.
    pub version: u32,
    /// Time.
    pub kept: String,
    /// Who approved.
    pub name: String,
    /// How the approval came.
    pub channel: Channel,
    /// Up to which total, minor units.
    pub amount: String,
    /// The approval in their words.
    pub words: String,
    /// What becomes of the old parts.
    pub old_parts: OldParts,
    /// Signature as an SVG path in a box of 600 by 200, or empty.
    pub signature: String,
}

/// A received part.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PartReceiptView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// Supplier.
    pub supplier: String,
    /// Part number.
    pub part_number: String,
    /// Description.
    pub description: String,
    /// Condition: new, used, rebuilt.
    pub condition: String,
    /// Price in minor units.
    pub price: String,
    /// Core charge in minor units.
    pub core_charge: String,
    /// Return terms.
    pub return_terms: String,
    /// Warranty.
    pub warranty: String,
    /// Photos of the receipt and the part.
    pub photos: Vec<PhotoView>,
    /// Id of the circuit's module that it is; empty for any other part.
    pub module: String,
}

/// The invoice.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct InvoiceView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// Lines.
    pub lines: Vec<LineView>,
    /// Totals.
    pub totals: TotalsView,
    /// Approved total it was held against, minor units.
    pub approved: String,
}
