import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobRow } from '../lib/bindings/JobRow';
import { jobList } from '../lib/jobList.svelte';
import { answers, callsOf, forget } from '../testing/fakeShell';
import { clear, count, one, press, settled, show, textOf, type } from '../testing/screen';
import Jobs from './Jobs.svelte';

vi.mock('../lib/backend/shell', () => import('../testing/fakeShell'));

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
  answers.jobs_search = ({ query, skip }) => {
    const all = Array.from({ length: total }, (_, place) => row(total - place));
    const found = all.filter((one) => one.vehicle.includes(String(query)));
    return { rows: found.slice(Number(skip), Number(skip) + 50), total: found.length };
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
    await clear();
    Object.defineProperty(window, 'scrollY', { value: 0, configurable: true });
    show(Jobs, {});
    await settled();
    expect(one<HTMLInputElement>('[name=search]').value).toBe('1');
    expect(count('[data-name=job]')).toBe(rows);
    expect(window.scrollTo).toHaveBeenLastCalledWith(0, 1234);
    expect(callsOf('jobs_search').at(-1)).toEqual({ query: '1', skip: 50 });
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
