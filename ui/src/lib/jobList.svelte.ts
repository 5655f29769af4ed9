import { jobsSearch } from './backend/job';
import type { JobRow } from './bindings/JobRow';
import { Kept } from './kept.svelte';

/** The list of jobs as it was left: what was searched, how far it was loaded, how far it was scrolled. */
export class JobList {
  query = $state('');
  rows = $state<JobRow[] | null>(null);
  total = $state(0);
  readonly searching = new Kept();
  /** How far down the list was, in CSS pixels. */
  place = 0;
  #asked = 0;

  /** The first page of what is searched now. */
  search(): Promise<void> {
    return this.#ask(async () => (await this.#page(0)).rows);
  }

  /** One page more. */
  more(): Promise<void> {
    const known = this.rows ?? [];
    return this.#ask(async () => [...known, ...(await this.#page(known.length)).rows]);
  }

  /** As many rows as before, as they are now. */
  again(): Promise<void> {
    const wanted = this.rows?.length ?? 0;
    return this.#ask(async () => {
      const rows: JobRow[] = [];
      do {
        const page = await this.#page(rows.length);
        if (page.rows.length === 0) break;
        rows.push(...page.rows);
      } while (rows.length < wanted);
      return rows;
    });
  }

  async #page(skip: number): Promise<{ rows: JobRow[] }> {
    const page = await jobsSearch(this.query, skip);
    this.#total = page.total;
    return page;
  }
  #total = 0;

  /** An answer to an earlier question never takes the place of a later one's. */
  async #ask(rows: () => Promise<JobRow[]>): Promise<void> {
    const mine = (this.#asked += 1);
    const found = await this.searching.run(rows, 'quiet');
    if (mine !== this.#asked || !found) return;
    this.rows = withoutTwins(found);
    this.total = this.#total;
    this.searching.now = { state: 'idle' };
  }
}

/** A job that moved up between two pages would stand in both. */
function withoutTwins(rows: JobRow[]): JobRow[] {
  return [...new Map(rows.map((row) => [row.job, row])).values()];
}

/** The one list of the app: it outlives its screen, so that Back comes to the same place. */
export const jobList = new JobList();
