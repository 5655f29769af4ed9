import { failure } from '../backend/failure';
import type { ErrorView } from '../bindings/ErrorView';
import { buzz } from '../shared/vibration';

/** What became of the last thing that was entered in one place. */
export type KeptState =
  | { state: 'idle' }
  | { state: 'keeping' }
  | { state: 'kept'; at: number }
  | { state: 'failed'; failure: ErrorView };

/** The quiet sign beside a field: idle, being kept, kept at a time, or failed with the reason. */
export class Kept {
  now = $state<KeptState>({ state: 'idle' });

  /** Runs one command that keeps something; gives its answer, or nothing when it failed. */
  async run<T>(work: () => Promise<T>, sound: 'buzz' | 'quiet' = 'buzz'): Promise<T | undefined> {
    this.now = { state: 'keeping' };
    try {
      const answer = await work();
      this.now = { state: 'kept', at: Date.now() };
      if (sound === 'buzz') buzz('kept');
      return answer;
    } catch (thrown) {
      this.now = { state: 'failed', failure: failure(thrown) };
      buzz('failed');
      return undefined;
    }
  }

  /** The same for what a tap keeps: a second tap while the first is under way would put it on record twice. */
  async once<T>(work: () => Promise<T>, sound: 'buzz' | 'quiet' = 'buzz'): Promise<T | undefined> {
    return this.now.state === 'keeping' ? undefined : this.run(work, sound);
  }
}
