import type { ApprovalEntry } from '../bindings/ApprovalEntry';
import type { BuyPriceEntry } from '../bindings/BuyPriceEntry';
import type { CorrectionEntry } from '../bindings/CorrectionEntry';
import type { CoverEntry } from '../bindings/CoverEntry';
import type { FindingEntry } from '../bindings/FindingEntry';
import type { HandOverEntry } from '../bindings/HandOverEntry';
import type { IntakeEntry } from '../bindings/IntakeEntry';
import type { JobRow } from '../bindings/JobRow';
import type { JobView } from '../bindings/JobView';
import type { LinesEntry } from '../bindings/LinesEntry';
import type { MeterEntry } from '../bindings/MeterEntry';
import type { PartEntry } from '../bindings/PartEntry';
import type { PinEntry } from '../bindings/PinEntry';
import type { ProgrammedEntry } from '../bindings/ProgrammedEntry';
import type { ProgrammingEntry } from '../bindings/ProgrammingEntry';
import type { ProofEntry } from '../bindings/ProofEntry';
import type { ReadingEntry } from '../bindings/ReadingEntry';
import { call } from './shell';

type Answer = Promise<JobView>;

/** Jobs that match all words; all jobs for an empty query. */
export const jobsSearch = (query: string) => call<JobRow[]>('jobs_search', { query });
/** Opens a new job. */
export const jobOpen = (): Answer => call('job_open');
/** One job as it stands. */
export const jobView = (job: string): Answer => call('job_view', { job });
/** Keeps the intake fields that were just entered. */
export const intakeKeep = (job: string, entry: IntakeEntry): Answer => call('intake_keep', { job, entry });
/** Chooses or changes the meter. */
export const meterChoose = (job: string, entry: MeterEntry): Answer => call('meter_choose', { job, entry });
/** Chooses the circuit. */
export const circuitChoose = (job: string, circuit: string): Answer =>
  call('circuit_choose', { job, circuit });
/** Notes what was found at a pin. */
export const pinKeep = (job: string, entry: PinEntry): Answer => call('pin_keep', { job, entry });
/** Acknowledges a caution, once per job. */
export const cautionAcknowledge = (job: string, caution: string): Answer =>
  call('caution_acknowledge', { job, caution });
/** Says that a test can't be reached, or that it can after all. */
export const testUnreachable = (job: string, test: string, unreachable: boolean): Answer =>
  call('test_unreachable', { job, test, unreachable });
/** Seals a reading. */
export const readingKeep = (job: string, entry: ReadingEntry): Answer => call('reading_keep', { job, entry });
/** Seals a correction that stands beside what it corrects. */
export const readingCorrect = (job: string, entry: CorrectionEntry): Answer =>
  call('reading_correct', { job, entry });
/** Keeps what the module would cost, for the comparison with testing on. */
export const buyPriceKeep = (job: string, entry: BuyPriceEntry): Answer =>
  call('buy_price_keep', { job, entry });
/** Freezes a finding. */
export const findingKeep = (job: string, entry: FindingEntry): Answer => call('finding_keep', { job, entry });
/** Seals a new version of the estimate. */
export const estimateKeep = (job: string, entry: LinesEntry): Answer => call('estimate_keep', { job, entry });
/** Seals an approval. */
export const approvalKeep = (job: string, entry: ApprovalEntry): Answer =>
  call('approval_keep', { job, entry });
/** Seals a received part. */
export const partReceive = (job: string, entry: PartEntry): Answer => call('part_receive', { job, entry });
/** Seals the programming route that is taken. */
export const programmingDecide = (job: string, entry: ProgrammingEntry): Answer =>
  call('programming_decide', { job, entry });
/** Seals what came of the programming. */
export const programmingReport = (job: string, entry: ProgrammedEntry): Answer =>
  call('programming_report', { job, entry });
/** Seals a before/after pair. */
export const proofKeep = (job: string, entry: ProofEntry): Answer => call('proof_keep', { job, entry });
/** Seals the invoice; refused above what was approved. */
export const invoiceKeep = (job: string, entry: LinesEntry): Answer => call('invoice_keep', { job, entry });
/** Seals the hand-over. */
export const handOver = (job: string, entry: HandOverEntry): Answer => call('hand_over', { job, entry });
/** Writes the findings report for one of the recipients. */
export const reportWrite = (job: string, language: string, recipient: string): Answer =>
  call('report_write', { job, language, recipient });
/** Keeps a copy of a photo with covered areas. */
export const photoCover = (job: string, entry: CoverEntry): Answer => call('photo_cover', { job, entry });
