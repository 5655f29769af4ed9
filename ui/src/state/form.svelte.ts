import { onDestroy, onMount, tick } from 'svelte';
import { draftKeep, draftView } from '../backend/draft';
import { failure } from '../backend/failure';
import { jobView } from '../backend/job';
import type { ErrorView } from '../bindings/ErrorView';
import type { Form } from '../bindings/Form';
import type { JobView } from '../bindings/JobView';
import { open } from './job.svelte';
import { Kept } from './kept.svelte';

/** What a form is about. */
export type About<T> = {
  /** Job id, asked once; empty for what belongs to the shop. */
  job: () => string;
  /** Name of its draft, asked once. */
  name: () => string;
  /** The form before anything was entered. */
  fresh: () => T;
  /** Number of records that the screen shows, where the record rests on all of them. */
  records?: () => number;
};

/** The longest that something entered is on the screen alone, in milliseconds. */
const UNSAVED_MS = 300;

/**
 * A form: what is entered goes to disk while it is entered, and leaves it with the record that it becomes.
 * `saved` says what became of the draft, `kept` what became of the record.
 */
export class EntryForm<T extends object> {
  value: T;
  /** True once what was left on disk is in the fields. */
  ready = $state(false);
  readonly saved = new Kept();
  readonly kept = new Kept();
  readonly job: string;
  readonly name: string;
  readonly #about: About<T>;
  /** Writes one after the other, so that an older text never overtakes a newer one. */
  #tail: Promise<unknown> = Promise.resolve();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #unsaved = false;
  /** Writes that have not ended yet, and what the last of them brings to disk. */
  #writing = 0;
  #last = '';

  constructor(about: About<T>) {
    this.job = about.job();
    this.name = about.name();
    this.#about = about;
    this.value = $state(about.fresh());
  }

  /** True while the record is being kept. */
  get busy(): boolean {
    return this.kept.now.state === 'keeping';
  }

  /** Why the record was refused, until something is changed. */
  get failure(): ErrorView | null {
    return this.kept.now.state === 'failed' ? this.kept.now.failure : null;
  }

  /** What a command has to know of the form: its job, and the draft that the record settles. */
  get settles(): Form {
    return { job: this.job, draft: this.name, records: this.#about.records?.() ?? null };
  }

  /** Takes up what was left on disk. */
  async load(): Promise<void> {
    try {
      const text = await draftView(this.job, this.name);
      if (text !== '') Object.assign(this.value, JSON.parse(text));
    } catch (thrown) {
      this.saved.now = { state: 'failed', failure: failure(thrown) };
    }
    this.ready = true;
  }

  /** Changes some fields. */
  change(part: Partial<T>): void {
    Object.assign(this.value, part);
    this.typed();
  }

  /** Something was entered: the first letter goes to disk at once, the others at the latest `UNSAVED_MS` later. */
  typed(): void {
    if (!this.busy) this.kept.now = { state: 'idle' };
    this.#unsaved = true;
    if (this.#timer !== undefined) return;
    void this.save();
    this.#timer = setTimeout(() => {
      this.#timer = undefined;
      void this.flush();
    }, UNSAVED_MS);
  }

  /** To disk now. */
  save(): Promise<unknown> {
    this.#unsaved = false;
    return this.#write(JSON.stringify(this.value));
  }

  /** What is not on disk yet goes there; waits for it. */
  flush(): Promise<unknown> {
    return this.#unsaved ? this.save() : this.#tail;
  }

  /** The page is being hidden and may be ended: there is no time to wait for an earlier write. */
  leave(): void {
    // A write that stands behind another one would never be sent.
    if (!this.#unsaved && this.#writing === 0) return;
    const text = this.#unsaved ? JSON.stringify(this.value) : this.#last;
    this.#unsaved = false;
    draftKeep(this.job, this.name, text).catch(() => (this.#unsaved = true));
  }

  /** The form becomes a record of its job: the store drops the draft with it. Nothing is lost when it is refused. */
  async seal(send: (form: Form) => Promise<JobView>): Promise<JobView | undefined> {
    const answer = await this.#send(() => send(this.settles));
    if (answer) {
      open.take(answer);
      // What the form starts from anew is what the screen shows of the answer.
      await tick();
      this.#empty();
    } else if (this.failure?.code === 'job_moved') {
      await this.#showMoved();
    }
    return answer;
  }

  /** The same for what is no record of a job: the draft is dropped afterwards. */
  async finish<A>(send: () => Promise<A>): Promise<A | undefined> {
    const answer = await this.#send(send);
    if (answer !== undefined) {
      this.#empty();
      await this.#write('');
    }
    return answer;
  }

  /** Says why it isn't even sent. */
  refuse(code: string): void {
    this.kept.now = { state: 'failed', failure: { code, values: {}, detail: '' } };
  }

  /** Nothing is entered any more. */
  drop(): Promise<unknown> {
    this.#empty();
    return this.#write('');
  }

  /** What the record rests on is not what was on the screen: it is shown before it is kept again. */
  async #showMoved(): Promise<void> {
    try {
      open.take(await jobView(this.job));
    } catch {
      // The refusal stands; the job is loaded anew with the next step.
    }
  }

  #send<A>(work: () => Promise<A>): Promise<A | undefined> {
    return this.kept.once(async () => {
      await this.flush();
      return work();
    });
  }

  #empty(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#unsaved = false;
    this.saved.now = { state: 'idle' };
    Object.assign(this.value, this.#about.fresh());
  }

  #write(text: string): Promise<unknown> {
    this.#writing += 1;
    this.#last = text;
    this.#tail = this.#tail.then(async () => {
      await this.saved.run(() => draftKeep(this.job, this.name, text), 'quiet');
      this.#writing -= 1;
      if (this.saved.now.state === 'failed') this.#unsaved = true;
      else if (text === '') this.saved.now = { state: 'idle' };
    });
    return this.#tail;
  }
}

/** Forms on the screen. */
let shown: { leave: () => void }[] = [];

/** A form of a screen that is being made: filled from disk when it is there, brought to disk when it goes. */
export function entryForm<T extends object>(about: About<T>): EntryForm<T> {
  const form = new EntryForm<T>(about);
  onMount(() => {
    shown.push(form);
    void form.load();
  });
  onDestroy(() => {
    shown = shown.filter((one) => one !== form);
    void form.flush();
  });
  return form;
}

/** For what changes a job without a form of its own. */
export function undrafted(job: string): Form {
  return { job, draft: '', records: null };
}

function leaveAll(): void {
  for (const form of shown) form.leave();
}

addEventListener('pagehide', leaveAll);
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') leaveAll();
});
