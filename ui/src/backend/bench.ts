import type { BenchEntry } from '../bindings/BenchEntry';
import type { BenchView } from '../bindings/BenchView';
import { call } from './shell';

/** The job's circuit, drawn with what is known of it; null while none is chosen. */
export const benchView = (job: string, entry: BenchEntry) =>
  call<BenchView | null>('bench_view', { job, entry });
