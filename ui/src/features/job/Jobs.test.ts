import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobsEntry } from '../../bindings/JobsEntry';
import type { JobRow } from '../../bindings/JobRow';
import { jobList } from '../../state/jobList.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import {
  clear,
  count,
  one,
  pick,
  press,
  settled,
  show,
  textOf,
  type,
  watchedEnd,
} from '../../testing/screen';
import Jobs from './Jobs.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const row = (number: number): JobRow => ({
  job: `j${number}`,
  number,
  vehicle: `Vehicle ${number}`,
  customer: '',
  complaint: '',
  stage: 'intake',
  waiting: number % 2 === 0 ? ['part'] : [],
  opened: '',
  changed: '',
});

/** How many jobs are in the list, near the view or not. */
const loaded = (): number => Number(/shown: (\d+)/.exec(textOf('[data-name=jobs-count]'))?.[1]);

function shop(total: number): void {
  answers.notices_view = () => [];
  answers.found_photos = () => [];
  answers.jobs_search = ({ entry }) => {
    const { query, filter, after, rows: wanted } = entry as JobsEntry;
    const all = Array.from({ length: total }, (_, place) => row(total - place));
    const found = all.filter(
      (one) =>
        one.vehicle.includes(query) &&
        (filter === '' || one.waiting.length > 0) &&
        (after === '' || one.number < Number(after)),
    );
    const rows = found.slice(0, wanted);
    const left = Math.min(found.length - rows.length, 1000);
    const next = left > 0 ? String(rows.at(-1)?.number) : '';
    return {
      rows,
      left,
      more_than_left: left === 1000,
      next,
      filters: ['waiting_part', 'stage_handed_over'],
    };
  };
}

beforeEach(() => {
  forget();
  jobList.query = '';
  jobList.filter = '';
  jobList.rows = null;
  jobList.left = 0;
  jobList.moreThanLeft = false;
  jobList.place = 0;
});
afterEach(async () => {
  vi.useRealTimers();
  await clear();
  vi.unstubAllGlobals();
});

describe('the list of jobs', () => {
  it('says how many there are and goes on past 200', async () => {
    shop(212);
    show(Jobs, {});
    await settled();
    expect(textOf('[data-name=jobs-count]')).toBe('Jobs shown: 50 of 212');
    for (let page = 0; page < 4; page += 1) await press('more-jobs');
    expect(textOf('[data-name=jobs-count]')).toBe('Jobs shown: 212 of 212');
    expect(count('[data-name=more-jobs]')).toBe(0);
  });

  it('says so where nobody counted to the end', async () => {
    shop(5000);
    show(Jobs, {});
    await settled();
    expect(textOf('[data-name=jobs-count]')).toBe('Jobs shown: 50 of more than 1050');
    expect(textOf('[data-name=more-jobs]')).toBe('Show more (over 1000 left)');
  });

  it('goes on by itself when its end comes into view, and after a failure only when asked', async () => {
    shop(180);
    const eye = watchedEnd();
    show(Jobs, {});
    await settled();
    expect(loaded()).toBe(50);
    eye.comesIntoView();
    await settled();
    expect(loaded()).toBe(100);
    const search = answers.jobs_search;
    answers.jobs_search = refusal('store_busy');
    eye.comesIntoView();
    await settled();
    expect([loaded(), eye.watched()]).toEqual([100, 0]);
    if (search) answers.jobs_search = search;
    await press('more-jobs');
    expect([loaded(), eye.watched()]).toEqual([150, 1]);
  });

  it('comes back as it was left: what was searched, how far it was loaded and scrolled', async () => {
    vi.useFakeTimers();
    shop(212);
    show(Jobs, {});
    await settled();
    await type('search', '1');
    await vi.advanceTimersByTimeAsync(300);
    await settled();
    await press('more-jobs');
    const rows = loaded();
    expect(rows).toBeGreaterThan(50);
    Object.defineProperty(window, 'scrollY', { value: 1234, configurable: true });
    window.dispatchEvent(new Event('scroll'));
    Object.defineProperty(window, 'scrollY', { value: 2345, configurable: true });
    window.dispatchEvent(new Event('click'));
    // The next screen begins at its top while this one is still there.
    history.replaceState(null, '', '#/job/one');
    Object.defineProperty(window, 'scrollY', { value: 0, configurable: true });
    window.dispatchEvent(new Event('scroll'));
    history.replaceState(null, '', '#/');
    await clear();
    show(Jobs, {});
    await settled();
    expect(one<HTMLInputElement>('[name=search]').value).toBe('1');
    expect(loaded()).toBe(rows);
    expect(window.scrollTo).toHaveBeenLastCalledWith(0, 2345);
    expect(callsOf('jobs_search').at(-1)).toEqual({
      entry: { query: '1', filter: '', after: '', rows },
    });
  });

  it('is narrowed by a chip, and comes back narrowed', async () => {
    shop(212);
    show(Jobs, {});
    await settled();
    await pick('filter', 'waiting_part');
    expect(textOf('[data-name=jobs-count]')).toBe('Jobs shown: 50 of 106');
    expect(count('[data-name=job]')).toBe(count('[data-name=job-waiting]'));
    expect(document.querySelector('[data-name=job-waiting]')?.textContent).toContain('waiting for a part');
    await clear();
    show(Jobs, {});
    await settled();
    expect(one('[data-name=filter] .picked').dataset.value).toBe('waiting_part');
    expect(textOf('[data-name=jobs-count]')).toBe('Jobs shown: 50 of 106');
  });

  it('stays flat with 10,000 jobs, and tells readers of every one', async () => {
    shop(10_000);
    jobList.rows = Array.from({ length: 10_000 }, (_, place) => row(10_000 - place));
    show(Jobs, {});
    await settled();
    expect(loaded()).toBe(10_000);
    expect(count('[data-name=job]')).toBeLessThan(100);
    const first = document.querySelector('[role=listitem]');
    expect([first?.getAttribute('aria-posinset'), first?.getAttribute('aria-setsize')]).toEqual([
      '1',
      '10000',
    ]);
  });

  it('keeps the line with the focus while another part is looked at', async () => {
    shop(10_000);
    jobList.rows = Array.from({ length: 10_000 }, (_, place) => row(10_000 - place));
    show(Jobs, {});
    await settled();
    document.querySelector<HTMLElement>('[data-name=job]')?.focus();
    const list = document.querySelector('[role=list]:has([data-name=job])') as HTMLElement;
    list.getBoundingClientRect = () => ({ top: -900_000 }) as DOMRect;
    window.dispatchEvent(new Event('scroll'));
    await settled();
    const places = [...document.querySelectorAll('[role=listitem]')].map((line) =>
      Number(line.getAttribute('aria-posinset')),
    );
    expect(places[0]).toBe(1);
    expect(document.activeElement?.getAttribute('data-name')).toBe('job');
    expect(places.some((place) => place > 7000)).toBe(true);
    expect(places.length).toBeLessThan(120);
  });

  it('says what to do first in an empty shop, and how to get out of a filter without jobs', async () => {
    shop(0);
    show(Jobs, {});
    await settled();
    expect(document.body.textContent).toContain('Write down the complaint first');
    expect(count('[data-name=filter]')).toBe(0);
    expect(count('[data-name=take-in]')).toBe(1);
    await clear();
    shop(1);
    jobList.filter = 'waiting_part';
    show(Jobs, {});
    await settled();
    expect(textOf('[data-name=jobs-count]')).toBe('No job is here right now.');
    await press('all-jobs');
    expect(count('[data-name=job]')).toBe(1);
  });

  it('shows what happened to the data until it was read', async () => {
    shop(1);
    const notice = {
      id: 'n1',
      code: 'database_rebuilt',
      values: {},
      job: 'j1',
      found: '2026-11-28T10:00:00Z',
    };
    answers.notices_view = () => [notice];
    answers.notice_acknowledge = () => [];
    show(Jobs, {});
    await settled();
    expect(textOf('[data-name=notice]')).toContain('rebuilt from the journals');
    expect(one('[data-name=notice-job]').getAttribute('href')).toBe('#/job/j1');
    await press('notice-read');
    expect(callsOf('notice_acknowledge')).toEqual([{ id: 'n1' }]);
    expect(count('[data-name=notice]')).toBe(0);
  });
});
