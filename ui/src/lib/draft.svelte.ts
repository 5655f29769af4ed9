import { draftKeep, draftView } from './backend/draft';
import { Kept } from './kept.svelte';

/** A form that is not yet a record: every change goes to disk, so that it survives the end of the app. */
export class Draft<T extends object> {
  value: T;
  readonly kept = new Kept();
  /** Writes one after the other, so that an older text never overtakes a newer one. */
  #tail: Promise<unknown> = Promise.resolve();

  constructor(
    readonly job: string,
    readonly form: string,
    fresh: T,
  ) {
    this.value = $state(fresh);
  }

  /** Takes up what was left on disk; true when there was something. */
  async load(): Promise<boolean> {
    const text = await draftView(this.job, this.form);
    if (text === '') return false;
    Object.assign(this.value, JSON.parse(text));
    return true;
  }

  /** Something changed: to disk. */
  keep(): Promise<unknown> {
    const text = JSON.stringify(this.value);
    return this.#write(text);
  }

  /** The record is sealed: the draft is no longer needed. */
  clear(fresh: T): Promise<unknown> {
    Object.assign(this.value, fresh);
    return this.#write('');
  }

  #write(text: string): Promise<unknown> {
    this.#tail = this.#tail.then(() => this.kept.run(() => draftKeep(this.job, this.form, text), 'quiet'));
    return this.#tail;
  }
}
