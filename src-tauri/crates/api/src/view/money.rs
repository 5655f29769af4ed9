use super::{BothLanguages, PhotoView};
use job::event::{Channel, OldParts, PaymentWay, Signer, SupplierStep};
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

/// A line of the shop's own, to be used again.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct OwnLineView {
    /// As it was used last, or as it was pinned.
    pub line: LineView,
    /// The shop pinned it.
    pub pinned: bool,
    /// How many jobs used it.
    pub jobs: u32,
}

/// What the finding blames, for the lines of an estimate.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BlamedView {
    /// What it is called.
    pub name: BothLanguages,
    /// A part that another one takes the place of; a wire or a connection is mended.
    pub is_part: bool,
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
    /// The prices have the tax in them: the sums before it are what is left without it.
    pub tax_included: bool,
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
    /// Record of the approval of this version that holds, or empty.
    pub approved_by: String,
    /// True when the customer said something to it, be it no.
    pub answered: bool,
    /// The last day on which it holds by the rules of the region (`YYYY-MM-DD`); empty where they count none.
    pub holds_until: String,
    /// What is different from the version before it.
    pub changes: Vec<LineChange>,
}

/// A line that is new, gone or different in a version of the estimate.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct LineChange {
    /// `added`, `removed` or `changed`.
    #[ts(type = "'added' | 'removed' | 'changed'")]
    pub change: String,
    /// Its description.
    pub description: String,
    /// Amount before, minor units; empty for a new one.
    pub before: String,
    /// Amount now, minor units; empty for one that is gone.
    pub now: String,
}

/// An approval that was taken back.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ApprovalWithdrawalView {
    /// Time.
    pub kept: String,
    /// How it came.
    pub channel: Channel,
    /// Who.
    pub name: String,
    /// In their words.
    pub words: String,
}

/// A waiver of the written estimate.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct WaiverView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// How it was put in writing.
    pub channel: Channel,
    /// Who.
    pub name: String,
    /// In which words.
    pub words: String,
    /// Signature as an SVG path in a box of 600 by 200, or empty.
    pub signature: String,
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
    /// When the customer said so (RFC 3339); empty in older records: then at `kept`.
    pub given_at: String,
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
    /// Lines with what was said to each; empty where all of it was approved.
    pub answers: Vec<LineAnswerView>,
    /// Who it was: customer, approver, other; null in older records.
    pub signer: Option<Signer>,
    /// What it depends on.
    pub conditions: String,
    /// Number that was called.
    pub number_called: String,
    /// Who of the shop called.
    pub called_by: String,
    /// Photos of the message.
    pub photos: Vec<PhotoView>,
    /// True for the one that holds now.
    pub in_force: bool,
    /// Its withdrawal.
    pub withdrawn: Option<ApprovalWithdrawalView>,
}

/// What was said to one line.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct LineAnswerView {
    /// Its description.
    pub description: String,
    /// Its amount, minor units.
    pub amount: String,
    /// approved, declined, deferred.
    #[ts(type = "'approved' | 'declined' | 'deferred'")]
    pub answer: String,
}

/// A question for an approval that went out.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ApprovalRequestView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// Version it asks about.
    pub version: u32,
    /// How it was asked.
    pub channel: Channel,
    /// In which language; empty in older records.
    pub language: String,
    /// The message.
    pub text: String,
    /// Number or address.
    pub to: String,
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

/// An invoice.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct InvoiceView {
    /// Record.
    pub record: String,
    /// Its number.
    pub number: String,
    /// Time.
    pub kept: String,
    /// Lines.
    pub lines: Vec<LineView>,
    /// Totals.
    pub totals: TotalsView,
    /// Approved total it was held against, minor units.
    pub approved: String,
    /// What of it was credited since, minor units.
    pub credited: String,
    /// The shop's number for its tax that stands on it; empty where none does.
    pub seller_number: String,
    /// Time of the invoice that took its place, in records of earlier versions; empty where none did. It counts no longer.
    pub replaced: String,
    /// Time of the invoice whose place it took; empty where it took none's.
    pub replaces: String,
}

/// A credit note.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CreditNoteView {
    /// Record.
    pub record: String,
    /// Its number.
    pub number: String,
    /// Number of the invoice.
    pub invoice: String,
    /// Time.
    pub kept: String,
    /// Lines.
    pub lines: Vec<LineView>,
    /// Totals.
    pub totals: TotalsView,
    /// Why.
    pub reason: String,
}

/// Money between shop and customer.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PaymentView {
    /// Record.
    pub record: String,
    /// Time it was kept.
    pub kept: String,
    /// Which way it went.
    pub way: PaymentWay,
    /// cash, card, check, transfer.
    pub means: String,
    /// How much, minor units.
    pub amount: String,
    /// Day on which it did.
    pub day: String,
    /// Reference.
    pub reference: String,
    /// Note.
    pub note: String,
    /// Photos.
    pub photos: Vec<PhotoView>,
}

/// What the customer owes and has paid, minor units.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BalanceView {
    /// Sum of the invoices.
    pub billed: String,
    /// Sum of the credit notes.
    pub credited: String,
    /// What was paid less what was given back.
    pub paid: String,
    /// What is due; below zero the shop owes it.
    pub due: String,
    /// What was paid ahead of the first invoice.
    pub is_deposit: bool,
}

/// One supplier's account in a job.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SupplierView {
    /// The business.
    pub supplier: String,
    /// Lines in the order of their records.
    pub lines: Vec<SupplierLineView>,
    /// What was agreed or quoted, minor units.
    pub expected: String,
    /// What was billed, minor units.
    pub billed: String,
    /// Billed beyond what was expected, minor units; may be below zero.
    pub over_expected: String,
    /// What was paid, minor units.
    pub paid: String,
    /// What the shop owes, minor units; below zero what it is owed.
    pub owed: String,
    /// Returns whose credit hasn't come, minor units.
    pub to_come_back: String,
}

/// One line of a supplier's account.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SupplierLineView {
    /// Record.
    pub record: String,
    /// Day.
    pub day: String,
    /// What happened.
    pub step: SupplierStep,
    /// What it is for: part, core, labour, sublet, programming, other.
    pub what: String,
    /// In words.
    pub description: String,
    /// How much, minor units.
    pub amount: String,
    /// Day until which a return is taken or credit is due; empty where nobody said.
    pub due: String,
    /// Number of the paper.
    pub reference: String,
    /// Who of the supplier said so.
    pub by: String,
}
