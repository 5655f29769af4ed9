//! One function per user action, the transfer types of the screen, and the error codes.
//!
//! Every change of a job goes through one door (`act`): one lock, one load, one rule, one record, one fold, one view.
//!
//! Commands of the shell (name: arguments → answer). A refused action answers with [`ErrorView`].
//!
//! | command | arguments | answer |
//! |---|---|---|
//! | `sample_view` | | `boolean`: whether the sample shop is looked at (the shell's own, as the next two) |
//! | `sample_enter` | | `string`: the id of the sample's job |
//! | `sample_leave` | | |
//! | `shop_view` | | `ShopView` |
//! | `regions` | | `RulesView[]` |
//! | `shop_set_up` | `entry: ShopEntry` | `ShopView` |
//! | `programming_settings` | | `ProgrammingSettingsView` |
//! | `programming_setting_keep` | `entry: SettingEntry` | `ProgrammingSettingsView` |
//! | `tool_view` | | `ToolView` |
//! | `tool_setting_keep` | `entry: SettingEntry` | `ToolView` |
//! | `year_view` | `year` | `YearView` |
//! | `preferences_keep` | `entry: Preferences` | `ShopView` |
//! | `vin_check` | `text` | `VinView` |
//! | `label_read` | raw body, header `x-photo`: JSON of `LabelEntry` | `LabelView` or null (nothing is kept) |
//! | `jobs_search` | `entry: JobsEntry` | `JobsView`: the first page, or the one after that whose `next` is given |
//! | `notices_view` | | `NoticeView[]` not yet acknowledged |
//! | `notice_acknowledge` | `id` | `NoticeView[]` |
//! | `job_open` | | `JobView` |
//! | `job_view` | `job` | `JobView` |
//! | `records_take_in` | `job` | `JobView` |
//! | `timeline_page` | `job, before` | `TimelineEntry[]`: the lines before that place |
//! | `readings_page` | `job, before` | `ReadingView[]`: the readings before that number |
//! | `reading_view` | `job, record` | `ReadingView` |
//! | `photo_view` | `job, photo` | `PhotoView` |
//! | `draft_keep` | `job, form, text` | |
//! | `draft_view` | `job, form` | `string` (empty when none) |
//! | `intake_keep` | `form, entry: IntakeEntry` | `JobView` |
//! | `photo_keep` | raw body, header `x-photo`: JSON of `PhotoEntry` | `PhotoView` |
//! | `found_photos` | | `FoundPhotoView[]` without a record |
//! | `found_photo_attach` | `form, entry: FoundPhotoEntry` | `JobView` |
//! | `job_photos` | `job` | `JobPhotoView[]` |
//! | `found_photo_destroy` | `sha256` | `FoundPhotoView[]` |
//! | `camera_intent_keep` | `job, purpose, form` | |
//! | `camera_intent_take` | | `CameraIntent` or null |
//! | `meters` | | `MeterView[]` |
//! | `meter_choose` | `form, entry: MeterEntry` | `JobView` |
//! | `circuits` | `entry: CircuitsEntry` | `CircuitRow[]`, those of the job's complaint first |
//! | `circuit_picture` | `circuit, language` | `Picture`: a circuit of the list, nothing known of it |
//! | `circuit_choose` | `form, circuit` | `JobView` |
//! | `circuit_blocks` | | `BlocksView` |
//! | `circuit_compose` | `form, entry: BlocksEntry` | `JobView` |
//! | `own_circuits` | | `OwnCircuitRow[]` |
//! | `own_circuit_view` | `circuit` | `OwnCircuitEntry` |
//! | `own_circuit_check` | `entry: OwnCircuitEntry, state` | `OwnCircuitCheckView` (nothing is kept) |
//! | `own_circuit_keep` | `circuit` (empty for a new one), `entry: OwnCircuitEntry` | `OwnCircuitRow[]` |
//! | `own_circuit_remove` | `circuit` | `OwnCircuitRow[]` |
//! | `own_circuit_export` | `circuit` | `string` (path) |
//! | `own_circuit_import` | `text` | `OwnCircuitEntry` (nothing is kept) |
//! | `pin_keep` | `form, entry: PinEntry` | `JobView` |
//! | `caution_acknowledge` | `form, caution` | `JobView` |
//! | `test_unreachable` | `form, test, unreachable` | `JobView` |
//! | `paper_read` | `job, entry: PaperEntry` | `PaperView`: what a supplier's paper on a photo is read as (nothing is kept) |
//! | `photo_seen` | `job, entry: SeenEntry` | `ProposalView`: the number a photo is read as (nothing is kept) |
//! | `reading_keep` | `form, entry: ReadingEntry` | `JobView` |
//! | `reading_correct` | `form, entry: CorrectionEntry` | `JobView` |
//! | `reading_withdraw` | `form, entry: WithdrawalEntry` | `JobView` |
//! | `bench_view` | `job, entry: BenchEntry` | `BenchView` or null: the circuit drawn (nothing is kept) |
//! | `buy_price_keep` | `job, entry: BuyPriceEntry` | `JobView` (advice; no record) |
//! | `finding_keep` | `form, entry: FindingEntry` | `JobView` |
//! | `lines_total` | `job, paper, entry: LinesEntry` | `TotalsView` (nothing is kept) |
//! | `own_lines` | | `OwnLineView[]`: pinned lines, then those used before, newest first |
//! | `line_pin` | `entry: LinePinEntry` | `OwnLineView[]` |
//! | `estimate_keep` | `form, entry: LinesEntry` | `JobView` |
//! | `estimate_waive` | `form, entry: EstimateWaiverEntry` | `JobView` |
//! | `approval_request` | `form, entry: ApprovalRequestEntry` | `JobView` |
//! | `approval_keep` | `form, entry: ApprovalEntry` | `JobView` |
//! | `approval_withdraw` | `form, entry: ApprovalWithdrawalEntry` | `JobView` |
//! | `part_receive` | `form, entry: PartEntry` | `JobView` |
//! | `programming_decide` | `form, entry: ProgrammingEntry` | `JobView` |
//! | `programming_quote_keep` | `job, entry: QuoteEntry` | `JobView` (no record before the decision) |
//! | `appointment_export` | `job` | `string` (path of a calendar file) |
//! | `programming_report` | `form, entry: ProgrammedEntry` | `JobView` |
//! | `proof_keep` | `form, entry: ProofEntry` | `JobView` |
//! | `invoice_keep` | `form, entry: LinesEntry` | `JobView` |
//! | `credit_note_keep` | `form, entry: CreditNoteEntry` | `JobView` |
//! | `payment_keep` | `form, entry: PaymentEntry` | `JobView` |
//! | `supplier_step_keep` | `form, entry: SupplierStepEntry` | `JobView` |
//! | `hand_over` | `form, entry: HandOverEntry` | `JobView` |
//! | `photo_cover` | `form, entry: CoverEntry` | `JobView` |
//! | `photo_mark` | `form, entry: MarksEntry` | `JobView` |
//! | `report_write` | `job, entry: ReportEntry` | `JobView` |
//! | `result_message` | `job, language` | `string` (at most 480 characters) |
//! | `file_open`, `folder_open` | `job, name` | nothing; on a desktop |
//! | `file_bytes` | `job, name` | the bytes, for a share sheet |
//! | `packet_preview` | `job, entry: PacketEntry` | `SharingView` |
//! | `packet_write` | `job, entry: PacketEntry` | `VerificationView` of the packet just written |
//! | `packet_verify` | `path` | `VerificationView` |
//! | `authorities_view` | | `AuthoritiesView` |
//! | `authority_keep` | `entry: AuthorityEntry` | `AuthoritiesView` |
//! | `authority_remove` | `address` | `AuthoritiesView` |
//! | `timestamps_fetch` | `all` | `AuthoritiesView` after asking for what is due |
//! | `key_change`, `key_lost`, `key_unlock` | `passphrase` | `ShopView` |
//! | `key_protect` | `old, new` | `ShopView` |
//! | `device_add` | `device, public_key` | `ShopView` |
//! | `backup_write` | `passphrase, with_key` | `BackupView` |
//! | `backup_check` | `path, passphrase` | `DamagedBackupView` |
//! | `backup_restore` | `entry: RestoreEntry` | `ShopView`; only before the first start is answered |
//! | `open_export` | | `BackupView` |
//! | `open_import` | `path, trust` (fingerprints that were compared) | `ImportView` |
//! | `shop_check` | | `CheckView` |
//! | `forgetting_view` | `job` | `ForgettingView` |
//! | `customer_forget` | `job` | `JobView` |
//! | `work_view` | | `WorkView` |
//! | `work_cancel` | | |

mod act;
mod actions;
mod calendar;
mod checkpoints;
mod circuit_search;
mod closed_jobs;
mod engines;
pub mod entry;
mod error;
mod picture;
mod plans;
mod settings;
mod shop_reasoning;
mod show;
mod typed;
pub mod view;
mod work;
mod workshop;
pub mod world;

pub use actions::{Ledger, backup_check, label_in, paper_in, restore};
pub use error::{ApiError, ErrorView};
pub use work::Work;
pub use workshop::Workshop;
