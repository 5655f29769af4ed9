import { jobsSearch } from '../backend/job';
import type { JobRow } from '../bindings/JobRow';
import type { JobsView } from '../bindings/JobsView';
import { Kept } from './kept.svelte';

type Shown = { rows: JobRow[]; last: JobsView };

/** Rows of one page. */
const PAGE = 50;
/** Most rows that the core gives at once. */
const MOST = 1000;

/** The list of jobs as it was left: what was searched and picked, how far it was loaded, how far it was scrolled. */
export class JobList {
  query = $state('');
  /** What it is narrowed to, as Rust names it; empty for all jobs. */
  filter = $state('');
  /** What it can be narrowed to. */
  filters = $state.raw<string[]>([]);
  rows = $state.raw<JobRow[] | null>(null);
  /** How many jobs come after those loaded; `moreThanLeft` when nobody counted to their end. */
  left = $state(0);
  moreThanLeft = $state(false);
  readonly searching = new Kept();
  /** How far down the list was, in CSS pixels. */
  place = 0;
  /** What its pieces took on the screen. */
  readonly heights: number[] = [];
  /** Where the next page begins. */
  #next = '';
  #asked = 0;

  /** The first page of what is searched now. */
  search(): Promise<void> {
    this.heights.length = 0;
    return this.#ask(() => this.#from([], 1));
  }

  /** Narrows it, or widens it again. */
  narrow(filter: string): Promise<void> {
    this.filter = filter;
    return this.search();
  }

  /** One page more. */
  async more(): Promise<void> {
    if (this.#next === '' || this.searching.now.state === 'keeping') return;
    const known = this.rows ?? [];
    await this.#ask(async () => {
      const last = await this.#page(this.#next, PAGE);
      return { rows: [...known, ...last.rows], last };
    });
  }

  /** As many rows as before, as they are now. */
  again(): Promise<void> {
    return this.#ask(() => this.#from([], this.rows?.length ?? 1));
  }

  async #from(rows: JobRow[], wanted: number): Promise<Shown> {
    const count = (): number => Math.min(Math.max(wanted - rows.length, PAGE), MOST);
    let last = await this.#page('', count());
    rows.push(...last.rows);
    while (rows.length < wanted && last.next !== '') {
      last = await this.#page(last.next, count());
      rows.push(...last.rows);
    }
    return { rows, last };
  }

  #page(after: string, rows: number): Promise<JobsView> {
    return jobsSearch({ query: this.query, filter: this.filter, after, rows });
  }

  /** An answer to an earlier question never takes the place of a later one's. */
  async #ask(pages: () => Promise<Shown>): Promise<void> {
    const mine = (this.#asked += 1);
    const found = await this.searching.run(pages, 'quiet');
    if (mine !== this.#asked || !found) return;
    this.rows = withoutTwins(found.rows);
    this.left = found.last.left;
    this.moreThanLeft = found.last.more_than_left;
    this.filters = found.last.filters;
    this.#next = found.last.next;
    this.searching.now = { state: 'idle' };
  }
}

/** A job that moved up between two pages would stand in both. */
function withoutTwins(rows: JobRow[]): JobRow[] {
  return [...new Map(rows.map((row) => [row.job, row])).values()];
}

/** The one list of the app: it outlives its screen, so that Back comes to the same place. */
export const jobList = new JobList();
