import type { BlocksEntry } from '../bindings/BlocksEntry';
import type { ApprovalEntry } from '../bindings/ApprovalEntry';
import type { ApprovalRequestEntry } from '../bindings/ApprovalRequestEntry';
import type { ApprovalWithdrawalEntry } from '../bindings/ApprovalWithdrawalEntry';
import type { CreditNoteEntry } from '../bindings/CreditNoteEntry';
import type { PaymentEntry } from '../bindings/PaymentEntry';
import type { SupplierStepEntry } from '../bindings/SupplierStepEntry';
import type { BuyPriceEntry } from '../bindings/BuyPriceEntry';
import type { CorrectionEntry } from '../bindings/CorrectionEntry';
import type { CoverEntry } from '../bindings/CoverEntry';
import type { EstimateWaiverEntry } from '../bindings/EstimateWaiverEntry';
import type { FindingEntry } from '../bindings/FindingEntry';
import type { Form } from '../bindings/Form';
import type { HandOverEntry } from '../bindings/HandOverEntry';
import type { IntakeEntry } from '../bindings/IntakeEntry';
import type { JobsEntry } from '../bindings/JobsEntry';
import type { JobPhotoView } from '../bindings/JobPhotoView';
import type { JobView } from '../bindings/JobView';
import type { JobsView } from '../bindings/JobsView';
import type { LinesEntry } from '../bindings/LinesEntry';
import type { MarksEntry } from '../bindings/MarksEntry';
import type { MeterEntry } from '../bindings/MeterEntry';
import type { PaperEntry } from '../bindings/PaperEntry';
import type { PaperView } from '../bindings/PaperView';
import type { PartEntry } from '../bindings/PartEntry';
import type { PhotoView } from '../bindings/PhotoView';
import type { PinEntry } from '../bindings/PinEntry';
import type { ProgrammedEntry } from '../bindings/ProgrammedEntry';
import type { ProgrammingEntry } from '../bindings/ProgrammingEntry';
import type { ProposalView } from '../bindings/ProposalView';
import type { SeenEntry } from '../bindings/SeenEntry';
import type { ProofEntry } from '../bindings/ProofEntry';
import type { ReportEntry } from '../bindings/ReportEntry';
import type { ReadingEntry } from '../bindings/ReadingEntry';
import type { ReadingView } from '../bindings/ReadingView';
import type { TimelineEntry } from '../bindings/TimelineEntry';
import type { WithdrawalEntry } from '../bindings/WithdrawalEntry';
import { call } from './shell';

type Answer = Promise<JobView>;

/** A page of the jobs that match all words, all jobs for an empty query: the first, or the one after that whose `next` is given. */
export const jobsSearch = (entry: JobsEntry) => call<JobsView>('jobs_search', { entry });
/** Opens a new job. */
export const jobOpen = (): Answer => call('job_open');
/** One job as it stands. */
export const jobView = (job: string): Answer => call('job_view', { job });
/** The lines of the time-line before that place, oldest first. */
export const timelinePage = (job: string, before: number) =>
  call<TimelineEntry[]>('timeline_page', { job, before });
/** The readings before that number, oldest first. */
export const readingsPage = (job: string, before: number) =>
  call<ReadingView[]>('readings_page', { job, before });
/** One reading, by its record. */
export const readingView = (job: string, record: string) =>
  call<ReadingView>('reading_view', { job, record });
/** Every photo of a job in the order they were kept. */
export const jobPhotos = (job: string) => call<JobPhotoView[]>('job_photos', { job });
/** One photo, by its hash. */
export const photoView = (job: string, photo: string) => call<PhotoView>('photo_view', { job, photo });
/** Keeps the intake fields that were just entered. */
export const intakeKeep = (form: Form, entry: IntakeEntry): Answer => call('intake_keep', { form, entry });
/** The number that the photo of a reading seems to show; nothing is kept. */
export const photoSeen = (job: string, entry: SeenEntry) => call<ProposalView>('photo_seen', { job, entry });
/** What a supplier's paper on a photo says, or whether papers can be read here at all; nothing is kept. */
export const paperRead = (job: string, entry: PaperEntry) => call<PaperView>('paper_read', { job, entry });
/** Chooses or changes the meter. */
export const meterChoose = (form: Form, entry: MeterEntry): Answer => call('meter_choose', { form, entry });
/** Chooses the circuit. */
export const circuitChoose = (form: Form, circuit: string): Answer =>
  call('circuit_choose', { form, circuit });
/** Chooses the circuit that the blocks make. */
export const circuitCompose = (form: Form, entry: BlocksEntry): Answer =>
  call('circuit_compose', { form, entry });
/** Notes what was found at a pin. */
export const pinKeep = (form: Form, entry: PinEntry): Answer => call('pin_keep', { form, entry });
/** Acknowledges a caution, once per job. */
export const cautionAcknowledge = (form: Form, caution: string): Answer =>
  call('caution_acknowledge', { form, caution });
/** Says that a test can't be reached, or that it can after all. */
export const testUnreachable = (form: Form, test: string, unreachable: boolean): Answer =>
  call('test_unreachable', { form, test, unreachable });
/** Seals a reading. */
export const readingKeep = (form: Form, entry: ReadingEntry): Answer => call('reading_keep', { form, entry });
/** Seals a correction that stands beside what it corrects. */
export const readingCorrect = (form: Form, entry: CorrectionEntry): Answer =>
  call('reading_correct', { form, entry });
/** Takes a reading back: it counts nowhere from then on. */
export const readingWithdraw = (form: Form, entry: WithdrawalEntry): Answer =>
  call('reading_withdraw', { form, entry });
/** Keeps what the module would cost, for the comparison with testing on. */
export const buyPriceKeep = (job: string, entry: BuyPriceEntry): Answer =>
  call('buy_price_keep', { job, entry });
/** Freezes a finding. */
export const findingKeep = (form: Form, entry: FindingEntry): Answer => call('finding_keep', { form, entry });
/** Seals a new version of the estimate. */
export const estimateKeep = (form: Form, entry: LinesEntry): Answer => call('estimate_keep', { form, entry });
/** Seals that the customer was asked for an approval. */
export const approvalRequest = (form: Form, entry: ApprovalRequestEntry): Answer =>
  call('approval_request', { form, entry });
/** Keeps that the customer does without the written estimate. */
export const estimateWaive = (form: Form, entry: EstimateWaiverEntry): Answer =>
  call('estimate_waive', { form, entry });
/** Seals that the customer took the approval in force back. */
export const approvalWithdraw = (form: Form, entry: ApprovalWithdrawalEntry): Answer =>
  call('approval_withdraw', { form, entry });
/** Seals an approval, line by line. */
export const approvalKeep = (form: Form, entry: ApprovalEntry): Answer =>
  call('approval_keep', { form, entry });
/** Seals a received part. */
export const partReceive = (form: Form, entry: PartEntry): Answer => call('part_receive', { form, entry });
/** Seals the programming route that is taken. */
export const programmingDecide = (form: Form, entry: ProgrammingEntry): Answer =>
  call('programming_decide', { form, entry });
/** Seals what came of the programming. */
export const programmingReport = (form: Form, entry: ProgrammedEntry): Answer =>
  call('programming_report', { form, entry });
/** Seals a before/after pair. */
export const proofKeep = (form: Form, entry: ProofEntry): Answer => call('proof_keep', { form, entry });
/** Seals the invoice; refused above what was approved. */
export const invoiceKeep = (form: Form, entry: LinesEntry): Answer => call('invoice_keep', { form, entry });
/** Seals a credit note on an invoice. */
export const creditNoteKeep = (form: Form, entry: CreditNoteEntry): Answer =>
  call('credit_note_keep', { form, entry });
/** Seals money between shop and customer. */
export const paymentKeep = (form: Form, entry: PaymentEntry): Answer => call('payment_keep', { form, entry });
/** Seals one step between the shop and a supplier. */
export const supplierStepKeep = (form: Form, entry: SupplierStepEntry): Answer =>
  call('supplier_step_keep', { form, entry });
/** Seals the hand-over. */
export const handOver = (form: Form, entry: HandOverEntry): Answer => call('hand_over', { form, entry });
/** Writes a report for one of its readers. */
export const reportWrite = (job: string, entry: ReportEntry): Answer => call('report_write', { job, entry });
/** The text message that tells the result. */
export const resultMessage = (job: string, language: string): Promise<string> =>
  call('result_message', { job, language });
/** Keeps a copy of a photo with covered areas. */
export const photoCover = (form: Form, entry: CoverEntry): Answer => call('photo_cover', { form, entry });
/** Seals the marks on a photo as they stand now. */
export const photoMark = (form: Form, entry: MarksEntry): Answer => call('photo_mark', { form, entry });
/** Takes in the records that nobody signed for when they were sealed. */
export const recordsTakeIn = (job: string): Answer => call('records_take_in', { job });
