import type { ReadingView } from '../../bindings/ReadingView';
import type { ReadingFields } from './reading';

/** How long a reading that was just kept can be taken back with one tap, in milliseconds. */
export const UNDO_MS = 10_000;

/** The reading that was just kept, shown over the test that comes next. */
export type JustKept = {
  job: string;
  /** The test over which it is shown. */
  over: string;
  reading: ReadingView;
  /** When it was kept, by the device's clock in milliseconds. */
  at: number;
  /** What was entered, the name of its draft, and the test it was for: all of it comes back when it is undone. */
  entered: ReadingFields;
  draft: string;
  wanted: string;
};
