import { untrack } from 'svelte';
import { Kept } from './kept.svelte';

/**
 * A list of a job that is shown page by page, newest first: its newest page comes with the job, older ones are asked for.
 * Lines have places from 1 without a gap.
 */
export class Older<T> {
  /** Newest first, without a gap. */
  lines = $state.raw<T[]>([]);
  readonly asking = new Kept();
  readonly #place: (line: T) => number;
  readonly #page: (before: number) => Promise<T[]>;

  constructor(place: (line: T) => number, page: (before: number) => Promise<T[]>) {
    this.#place = place;
    this.#page = page;
  }

  /** How many lines are older than those shown. */
  get left(): number {
    const oldest = this.lines.at(-1);
    return oldest === undefined ? 0 : this.#place(oldest) - 1;
  }

  /** The newest page as it is now. Older lines stay as far as they join it. */
  take(newest: T[]): void {
    this.lines = this.#joined(
      untrack(() => this.lines),
      newest,
    );
  }

  /** One page more. */
  async more(): Promise<void> {
    if (this.left === 0) return;
    const page = await this.asking.once(() => this.#page(this.left + 1), 'quiet');
    if (!page) return;
    this.asking.now = { state: 'idle' };
    this.lines = this.#joined(page, this.lines);
  }

  /** Both without twins, where the later ones count; what lies behind a gap is left out. */
  #joined(earlier: T[], later: T[]): T[] {
    const sorted = [...later, ...earlier].sort((left, right) => this.#place(right) - this.#place(left));
    const all = sorted.filter((line, index) => {
      const before = sorted[index - 1];
      return before === undefined || this.#place(before) !== this.#place(line);
    });
    const first = all[0];
    if (first === undefined) return [];
    const gap = all.findIndex((line, index) => this.#place(line) !== this.#place(first) - index);
    return gap < 0 ? all : all.slice(0, gap);
  }
}
