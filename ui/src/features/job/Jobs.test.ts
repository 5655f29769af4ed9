import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobRow } from '../../bindings/JobRow';
import { jobList } from '../../state/jobList.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { clear, count, one, press, settled, show, textOf, type, watchedEnd } from '../../testing/screen';
import Jobs from './Jobs.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const row = (number: number): JobRow => ({
  job: `j${number}`,
  number,
  vehicle: `Vehicle ${number}`,
  customer: '',
  complaint: '',
  stage: 'intake',
  opened: '',
  changed: '',
});

function shop(total: number): void {
  answers.notices_view = () => [];
  answers.found_photos = () => [];
  answers.jobs_search = ({ query, after }) => {
    const all = Array.from({ length: total }, (_, place) => row(total - place));
    const found = all.filter(
      (one) => one.vehicle.includes(String(query)) && (after === '' || one.number < Number(after)),
    );
    const rows = found.slice(0, 50);
    const left = Math.min(found.length - rows.length, 1000);
    return { rows, left, more_than_left: left === 1000, next: left > 0 ? String(rows.at(-1)?.number) : '' };
  };
}

beforeEach(() => {
  forget();
  jobList.query = '';
  jobList.rows = null;
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
    expect(count('[data-name=job]')).toBe(212);
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
    expect(count('[data-name=job]')).toBe(50);
    eye.comesIntoView();
    await settled();
    expect(count('[data-name=job]')).toBe(100);
    const search = answers.jobs_search;
    answers.jobs_search = refusal('store_busy');
    eye.comesIntoView();
    await settled();
    expect([count('[data-name=job]'), eye.watched()]).toEqual([100, 0]);
    if (search) answers.jobs_search = search;
    await press('more-jobs');
    expect([count('[data-name=job]'), eye.watched()]).toEqual([150, 1]);
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
    const rows = count('[data-name=job]');
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
    expect(count('[data-name=job]')).toBe(rows);
    expect(window.scrollTo).toHaveBeenLastCalledWith(0, 2345);
    expect(callsOf('jobs_search').at(-1)).toEqual({
      query: '1',
      after: expect.stringMatching(/^[0-9]+$/) as string,
    });
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
