import { jobsSearch } from '../backend/job';
import type { JobRow } from '../bindings/JobRow';
import type { JobsView } from '../bindings/JobsView';
import { Kept } from './kept.svelte';

type Shown = { rows: JobRow[]; last: JobsView };

/** The list of jobs as it was left: what was searched, how far it was loaded, how far it was scrolled. */
export class JobList {
  query = $state('');
  rows = $state<JobRow[] | null>(null);
  /** How many jobs come after those loaded; `moreThanLeft` when nobody counted to their end. */
  left = $state(0);
  moreThanLeft = $state(false);
  readonly searching = new Kept();
  /** How far down the list was, in CSS pixels. */
  place = 0;
  /** Where the next page begins. */
  #next = '';
  #asked = 0;

  /** The first page of what is searched now. */
  search(): Promise<void> {
    return this.#ask(() => this.#from([], 1));
  }

  /** One page more. */
  async more(): Promise<void> {
    if (this.#next === '' || this.searching.now.state === 'keeping') return;
    const known = this.rows ?? [];
    await this.#ask(async () => {
      const last = await jobsSearch(this.query, this.#next);
      return { rows: [...known, ...last.rows], last };
    });
  }

  /** As many rows as before, as they are now. */
  again(): Promise<void> {
    return this.#ask(() => this.#from([], this.rows?.length ?? 1));
  }

  async #from(rows: JobRow[], wanted: number): Promise<Shown> {
    let last = await jobsSearch(this.query, '');
    rows.push(...last.rows);
    while (rows.length < wanted && last.next !== '') {
      last = await jobsSearch(this.query, last.next);
      rows.push(...last.rows);
    }
    return { rows, last };
  }

  /** An answer to an earlier question never takes the place of a later one's. */
  async #ask(pages: () => Promise<Shown>): Promise<void> {
    const mine = (this.#asked += 1);
    const found = await this.searching.run(pages, 'quiet');
    if (mine !== this.#asked || !found) return;
    this.rows = withoutTwins(found.rows);
    this.left = found.last.left;
    this.moreThanLeft = found.last.more_than_left;
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
