use super::*;
use std::collections::BTreeMap;

/// One line of the list of jobs.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct JobRow {
    /// Job id.
    pub job: String,
    /// Running number in the shop.
    pub number: u32,
    /// Vehicle, as far as known.
    pub vehicle: String,
    /// Customer, as far as known.
    pub customer: String,
    /// Complaint, shortened.
    pub complaint: String,
    /// Stage code.
    pub stage: String,
    /// What it waits for: customer, part, appointment.
    pub waiting: Vec<String>,
    /// Opened (wall time).
    pub opened: String,
    /// Last change (wall time).
    pub changed: String,
}

/// A page of the list of jobs.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct JobsView {
    /// Rows, newest change first.
    pub rows: Vec<JobRow>,
    /// How many more match after this page.
    pub left: u32,
    /// True when there are more than `left`: counting ends somewhere.
    pub more_than_left: bool,
    /// What to ask for the next page with; empty after the last one.
    pub next: String,
    /// What the list can be narrowed to, in the order to offer it: `waiting_…`, then `stage_…`.
    pub filters: Vec<String>,
}

/// A whole job.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct JobView {
    /// Job id.
    pub job: String,
    /// Running number in the shop.
    pub number: u32,
    /// How many records it has, over all its logs.
    pub records: u32,
    /// Stage code: intake, measuring, finding, estimate, approved, repair, proof, invoiced, handed_over.
    pub stage: String,
    /// The steps of the job in their order, as they stand.
    pub steps: Vec<StepView>,
    /// What to do next.
    pub next: NextView,
    /// What the job waits for.
    pub waiting: Vec<WaitView>,
    /// Intake.
    pub intake: IntakeView,
    /// Meter, if chosen.
    pub meter: Option<MeterView>,
    /// Circuit, if chosen.
    pub circuit: Option<CircuitView>,
    /// The newest page of readings in the order they were kept, corrected ones included; earlier ones come with
    /// `readings_page`.
    pub readings: Vec<ReadingView>,
    /// How many readings there are in all.
    pub readings_total: u32,
    /// How many of them count: those that weren't corrected.
    pub readings_counted: u32,
    /// How many photos the job has.
    pub photos_total: u32,
    /// Tests the technician can't reach.
    pub unreachable: Vec<String>,
    /// Cautions acknowledged in this job.
    pub cautions: Vec<String>,
    /// Reasoning, if a circuit is chosen.
    pub diagnosis: Option<DiagnosisView>,
    /// Findings on record.
    pub findings: Vec<FindingView>,
    /// Kinds of lines that start as taxed by the rules of the job's region.
    pub taxed_kinds: Vec<String>,
    /// Estimate versions.
    pub estimates: Vec<EstimateView>,
    /// Approvals.
    pub approvals: Vec<ApprovalView>,
    /// Approved total now in force, minor units; empty when none.
    pub approved_total: String,
    /// Received parts.
    pub parts: Vec<PartReceiptView>,
    /// Programming.
    pub programming: ProgrammingView,
    /// Proof of the fix.
    pub proofs: Vec<ProofView>,
    /// The reading that shows whether the fault is gone, once the repair is approved and until it is proven.
    pub to_prove: Option<ToProveView>,
    /// The reading that tells most of the fault that was found: what a customer is shown above the price.
    pub telling: Option<ReadingView>,
    /// What the newest finding blames, for the lines of an estimate.
    pub blamed: Option<BlamedView>,
    /// Waivers of the written estimate.
    pub waivers: Vec<WaiverView>,
    /// What a customer who waives it may sign, in both languages.
    pub waiver_draft: BothLanguages,
    /// The rules of the region want the latest estimate in the customer's hands before a yes by phone, and it isn't yet.
    pub written_wanted: bool,
    /// Longest message that asks for an approval, characters.
    pub request_longest: u32,
    /// A message that asks for the approval of the latest estimate, no longer than that, in both languages; empty while there is
    /// nothing to ask.
    pub request_draft: BothLanguages,
    /// Questions for an approval that went out.
    pub requests: Vec<ApprovalRequestView>,
    /// Invoices.
    pub invoices: Vec<InvoiceView>,
    /// Credit notes.
    pub credit_notes: Vec<CreditNoteView>,
    /// Money between shop and customer.
    pub payments: Vec<PaymentView>,
    /// What the customer owes and has paid.
    pub balance: BalanceView,
    /// Suppliers' accounts.
    pub suppliers: Vec<SupplierView>,
    /// Hand-over, if done.
    pub hand_over: Option<HandOverView>,
    /// Written reports and packets.
    pub reports: Vec<WrittenFileView>,
    /// Packets written.
    pub packets: Vec<WrittenFileView>,
    /// Latest checkpoint.
    pub checkpoint: Option<CheckpointView>,
    /// Times from outside, oldest first.
    pub times: Vec<OutsideTimeView>,
    /// The newest page of the time-line, oldest first: there are `records` lines in all, and earlier ones come with
    /// `timeline_page`.
    pub timeline: Vec<TimelineEntry>,
    /// Advice that forbids nothing: codes with a sentence in the words of the screen (diagnosis_not_approved, provider_not_disclosed,
    /// parts_are_held).
    pub advice: Vec<String>,
    /// Doubts about clocks and photos, each with the number of records it is about.
    pub doubts: Vec<DoubtCount>,
    /// What opening or reading found about this job.
    pub notices: Vec<NoticeView>,
    /// What may be done now: keep_reading, keep_finding, call_module, keep_estimate, approve, receive_part, decide_programming,
    /// report_programming, prove_fix, keep_invoice, keep_credit_note, keep_payment, withdraw_approval, hand_over, write_report,
    /// write_packet.
    pub can: BTreeMap<String, Verdict>,
}

/// A step of a job as it stands.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct StepView {
    /// Code: intake, circuit, pins, readings, reasoning, finding, estimate, approval, part, programming, proof, invoice,
    /// suppliers, payments, hand_over, papers.
    pub step: String,
    /// `done`, `waits`, `refused` while it can't be taken yet, `open`.
    #[ts(type = "'done' | 'waits' | 'refused' | 'open'")]
    pub state: String,
    /// What it waits for (customer, part, appointment); empty otherwise.
    pub waits_for: String,
    /// How much of it is on record.
    pub count: u32,
    /// May it be taken now?
    pub verdict: Verdict,
}

/// What to do next with a job.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct NextView {
    /// Code of a step, or `reading` for a new reading.
    pub step: String,
    /// The test of the reading; empty where it is the technician's to choose.
    pub test: String,
}

/// What a job waits for.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct WaitView {
    /// `customer`, `part` or `appointment`.
    pub what: String,
    /// Since when (wall time).
    pub since: String,
    /// When it is due, local time; empty where nobody said.
    pub due: String,
    /// Who it is, as far as known.
    pub whom: String,
    /// A phone number to ask at; empty where none is on record.
    pub phone: String,
}

/// A doubt and how many records it is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct DoubtCount {
    /// Code of the doubt.
    pub code: String,
    /// Records.
    pub count: u32,
}

/// A finding: frozen circuit, readings, result and engine version.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct FindingView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// `cause_called`, `module_called` or `not_proven`.
    pub outcome: String,
    /// The cause, when one is called.
    pub cause: BothLanguages,
    /// Its probability, decimal string.
    pub probability: String,
    /// Code of the word for it.
    pub likelihood: String,
    /// The technician's own words.
    pub words: String,
    /// Engine version.
    pub engine: String,
}

/// Before and after, the same test.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProofView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// Reading before (its record).
    pub before: String,
    /// Reading after (its record).
    pub after: String,
    /// Both, where they can be used.
    pub pair: Vec<ReadingView>,
    /// Note (road test, codes cleared).
    pub note: String,
}

/// The failing reading that is taken again after the repair.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ToProveView {
    /// The reading before the repair that told most of the fault.
    pub before: ReadingView,
    /// The same test after the repair (its record); empty while it wasn't taken.
    pub after: String,
}

/// Hand-over to the customer.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct HandOverView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// Warranty terms.
    pub warranty: String,
    /// Last day of the warranty, `YYYY-MM-DD`; empty where it isn't counted in months.
    pub warranty_until: String,
    /// Last odometer reading of the warranty; empty where it isn't counted by a distance.
    pub warranty_odometer: String,
    /// What was done with the old parts.
    pub old_parts: String,
}

/// One entry of the time-line: one record.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct TimelineEntry {
    /// Place on the time-line, from 1.
    pub place: u32,
    /// Record.
    pub record: String,
    /// Sequence in its log.
    pub sequence: u32,
    /// Kind of record: job_opened, intake_kept, photo_kept, meter_chosen, circuit_chosen, pin_noted, caution_acknowledged,
    /// test_unreachable, reading_kept, reading_corrected, finding_kept, estimate_kept, approval_kept, part_received,
    /// programming_decided, programming_reported, fix_proven, invoice_kept, handed_over, report_written.
    pub kind: String,
    /// Wall time with offset.
    pub kept: String,
    /// Short values for the sentence, by name (number, value, unit, total, name …).
    pub values: BTreeMap<String, String>,
    /// Photos of the record.
    pub photos: Vec<PhotoView>,
    /// Doubt codes about this record's clock or photos.
    pub doubts: Vec<String>,
}
