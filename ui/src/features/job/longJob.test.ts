import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { TimelineEntry } from '../../bindings/TimelineEntry';
import { open } from '../../state/job.svelte';
import { answers, callsOf, forget } from '../../testing/fakeShell';
import { job, reading } from '../../testing/samples';
import { clear, count, one, press, settled, show, textOf, watchedEnd } from '../../testing/screen';
import Proof from '../reading/Proof.svelte';
import Reading from '../reading/Reading.svelte';
import Readings from '../reading/Readings.svelte';
import Timeline from './Timeline.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const line = (place: number): TimelineEntry => ({
  place,
  record: `line-${place}`,
  sequence: place - 1,
  kind: 'meter_chosen',
  kept: '2026-11-28T10:00:00-05:00',
  values: { name: `Meter ${place}` },
  photos: [],
  doubts: [],
});
const last = <T>(to: number, make: (place: number) => T): T[] =>
  Array.from({ length: Math.min(to, 50) }, (_, index) => make(Math.max(to - 49, 1) + index));

const shown = (): string[] =>
  [...document.querySelectorAll('.wire [role=listitem]')].map(
    (entry) => /Meter [0-9]+/.exec(entry.textContent ?? '')?.[0] ?? '',
  );

/** The page is scrolled far past the end of the time-line. */
async function lookAtEnd(): Promise<void> {
  one('.wire [role=list]').getBoundingClientRect = () => ({ top: -200_000 }) as DOMRect;
  window.dispatchEvent(new Event('scroll'));
  await settled();
}

const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};

beforeEach(() => {
  forget();
  open.view = job({
    records: 130,
    timeline: last(130, line),
    readings: last(120, (number) => reading(number)),
    can: { keep_reading: { allowed: true, reason: '', values: {} } },
  });
  answers.timeline_page = ({ before }) => last(Number(before) - 1, line);
  answers.readings_page = ({ before }) => last(Number(before) - 1, (number) => reading(number));
});
afterEach(async () => {
  await clear();
  vi.unstubAllGlobals();
});

describe('a long job', () => {
  it('shows its newest records first and older ones page by page', async () => {
    show(Timeline, props);
    await settled();
    expect(shown().slice(0, 2)).toEqual(['Meter 130', 'Meter 129']);
    expect(document.body.textContent).toContain('130 records');
    expect(textOf('[data-name=older-lines]')).toBe('Show older (80 left)');
    expect(one('.wire [aria-posinset="1"]').getAttribute('aria-setsize')).toBe('130');
    await press('older-lines');
    await press('older-lines');
    await lookAtEnd();
    expect(shown().at(-1)).toBe('Meter 1');
    expect(one('.wire [aria-posinset="130"]').textContent).toContain('Meter 1');
    expect(callsOf('timeline_page')).toEqual([
      { job: 'j1', before: 81 },
      { job: 'j1', before: 31 },
    ]);
    expect(count('[data-name=older-lines]')).toBe(0);
  });

  it('keeps older lines when a record is added, and drops what no longer joins', async () => {
    show(Timeline, props);
    await settled();
    await press('older-lines');
    open.view = { ...props.view, records: 133, timeline: last(133, line) };
    await settled();
    expect(textOf('[data-name=older-lines]')).toBe('Show older (30 left)');
    open.view = { ...props.view, records: 300, timeline: last(300, line) };
    await settled();
    expect(textOf('[data-name=older-lines]')).toBe('Show older (250 left)');
  });

  it('has only the lines near the view on the page, of hundreds', async () => {
    open.view = { ...props.view, records: 900, timeline: last(900, line) };
    show(Timeline, props);
    await settled();
    for (let page = 0; page < 17; page += 1) await press('older-lines');
    expect(count('[data-name=older-lines]')).toBe(0);
    expect(count('.wire [role=listitem]')).toBeLessThan(100);
    await lookAtEnd();
    expect(shown().at(-1)).toBe('Meter 1');
    expect(count('.wire [role=listitem]')).toBeLessThan(100);
  });

  it('goes on by itself when the end comes into view', async () => {
    const eye = watchedEnd();
    show(Readings, props);
    await settled();
    expect(count('article')).toBe(50);
    eye.comesIntoView();
    await settled();
    eye.comesIntoView();
    await settled();
    expect([count('article'), eye.watched()]).toEqual([120, 0]);
  });

  it('has its end as a button that a keyboard reaches', async () => {
    show(Readings, props);
    await settled();
    const button = one('[data-name=older-readings]');
    expect([button.tagName, button.tabIndex]).toEqual(['BUTTON', 0]);
    button.focus();
    expect(document.activeElement).toBe(button);
  });

  it('corrects a reading of long ago, which is asked for by its record', async () => {
    answers.reading_view = ({ record }) => reading(3, { record: String(record), value: '7.77' });
    show(Reading, { ...props, view: props.view, about: 'correct-record-3' });
    await settled();
    expect(callsOf('reading_view')).toEqual([{ job: 'j1', record: 'record-3' }]);
    expect(document.body.textContent).toContain('7.77');
  });

  it('offers older readings to a proof of the fix', async () => {
    show(Proof, props);
    await settled();
    expect(count('[data-name=before] input')).toBe(50);
    await press('older-readings');
    expect(count('[data-name=before] input')).toBe(100);
  });
});
