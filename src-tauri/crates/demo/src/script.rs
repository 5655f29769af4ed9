//! The file of a played job.

use api::entry::*;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A shop that is set up before jobs are played.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShopFile {
    /// Answers of the first start.
    pub shop: ShopEntry,
    /// How the screens look.
    pub preferences: Preferences,
}

/// A job as a file: what was done, and when. Photos are named by file; a reading by `#` and its number ("#3").
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Script {
    /// What the job shows, for the reader.
    pub about: String,
    /// Language of report and packet: en or es.
    pub language: String,
    /// Folder of the photos, from the folder of the job.
    pub photos: String,
    /// Steps in order.
    pub steps: Vec<Step>,
}

/// One step.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// Wall time with offset, RFC 3339.
    pub at: String,
    /// What is done.
    #[serde(flatten)]
    pub action: Action,
    /// Code of the refusal that has to come; the job must refuse this step.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refused: Option<String>,
}

/// What a step does: the api's functions by their names.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "do", content = "with", rename_all = "snake_case")]
pub enum Action {
    /// Intake fields.
    IntakeKeep(IntakeEntry),
    /// A photo.
    PhotoKeep(PhotoStep),
    /// The meter.
    MeterChoose(MeterEntry),
    /// The circuit.
    CircuitChoose(String),
    /// A pin.
    PinKeep(PinEntry),
    /// A caution.
    CautionAcknowledge(String),
    /// A test that can't be reached.
    TestUnreachable(String),
    /// A reading.
    ReadingKeep(ReadingEntry),
    /// A correction.
    ReadingCorrect(CorrectionEntry),
    /// A finding.
    FindingKeep(FindingEntry),
    /// A version of the estimate.
    EstimateKeep(LinesEntry),
    /// An approval.
    ApprovalKeep(ApprovalEntry),
    /// A question for an approval.
    ApprovalRequest(ApprovalRequestEntry),
    /// A withdrawal of the approval in force; its `approval` may be left empty.
    ApprovalWithdraw(ApprovalWithdrawalEntry),
    /// A credit note; its `invoice` may be left empty for the latest.
    CreditNoteKeep(CreditNoteEntry),
    /// A payment or refund.
    PaymentKeep(PaymentEntry),
    /// A step between the shop and a supplier.
    SupplierStepKeep(SupplierStepEntry),
    /// A part.
    PartReceive(PartEntry),
    /// The programming route.
    ProgrammingDecide(ProgrammingEntry),
    /// What came of the programming.
    ProgrammingReport(ProgrammedEntry),
    /// The proof of the fix.
    ProofKeep(ProofEntry),
    /// The invoice.
    InvoiceKeep(LinesEntry),
    /// The hand-over.
    HandOver(HandOverEntry),
    /// What the job has to show now.
    Expect(Expectation),
}

/// A photo.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoStep {
    /// File in the folder of the photos.
    pub file: String,
    /// What it shows.
    pub purpose: PhotoPurpose,
}

/// What the job has to show; a field left out isn't looked at.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Expectation {
    /// Whether the module may be called.
    pub module_may_be_called: Option<bool>,
    /// The leading cause.
    pub leading_cause: Option<String>,
    /// A test that has to be among the first three offered.
    pub offered: Option<String>,
    /// Stage of the job.
    pub stage: Option<String>,
}
