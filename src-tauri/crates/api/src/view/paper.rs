use job::paper::PaperDoubt;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// An amount that stands on a paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PaperAmountView {
    /// In minor units.
    pub cents: String,
    /// As it is typed into a field.
    pub typed: String,
}

/// One line of a paper.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PaperItemView {
    /// In the paper's words.
    pub description: String,
    /// Part number; empty where none was found.
    pub part_number: String,
    /// How many; empty where it isn't said.
    pub quantity: String,
    /// The line's amount.
    pub amount: PaperAmountView,
    /// Whether it is a core charge.
    pub is_core: bool,
}

/// What a photo of a supplier's paper is read as. Proposals: nothing of it is kept. Empty or null where nothing was found.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PaperView {
    /// Whether this device has the networks that read papers. Without them all else is empty.
    pub can_read: bool,
    /// The business that wrote it.
    pub supplier: String,
    /// Day, `YYYY-MM-DD`.
    pub day: String,
    /// Number of the quote, bill or receipt.
    pub number: String,
    /// What was bought, cores among it.
    pub lines: Vec<PaperItemView>,
    /// Sum of the core charges among the lines.
    pub core: Option<PaperAmountView>,
    /// The tax.
    pub tax: Option<PaperAmountView>,
    /// Whether the tax is part of the lines' amounts already.
    pub tax_inside: bool,
    /// What is to be paid.
    pub total: Option<PaperAmountView>,
    /// Sum of the lines, with the tax where it comes on top.
    pub adds_up_to: Option<PaperAmountView>,
    /// What speaks against the total.
    pub doubts: Vec<PaperDoubt>,
}
