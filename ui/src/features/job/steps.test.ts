import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { StepView } from '../../bindings/StepView';
import { open } from '../../state/job.svelte';
import { answers, forget } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, one, settled, show, textOf } from '../../testing/screen';
import Timeline from './Timeline.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};
const step = (name: string, state: StepView['state'], part: Partial<StepView> = {}): StepView => ({
  step: name,
  state,
  waits_for: '',
  count: state === 'done' ? 3 : 0,
  verdict: { allowed: state !== 'refused', reason: '', values: {} },
  ...part,
});

beforeEach(() => {
  forget();
  answers.found_photos = () => [];
});
afterEach(clear);

describe('the first screen of a job', () => {
  it('shows every step as it stands above the time-line, the next one marked', async () => {
    open.view = job({
      steps: [
        step('intake', 'done'),
        step('readings', 'open'),
        step('approval', 'waits', { waits_for: 'customer' }),
        step('hand_over', 'refused'),
      ],
    });
    show(Timeline, props);
    await settled();
    expect(textOf('[data-name=station-intake]')).toBe('Check-in 3 on record');
    expect(textOf('[data-name=station-readings]')).toBe('Readings next · nothing yet');
    expect(textOf('[data-name=station-approval]')).toBe('Approval waiting for the customer');
    expect(textOf('[data-name=station-hand-over]')).toBe('Delivery not yet');
    expect(one('[data-name=station-hand-over]').getAttribute('href')).toBe('#/job/j1/hand-over');
    expect(one('[aria-current=step]').dataset.name).toBe('station-readings');
    const strip = one('[data-name=steps]');
    expect(strip.compareDocumentPosition(one('.wire')) & Node.DOCUMENT_POSITION_FOLLOWING).toBeTruthy();
  });

  it('leads with its main button where Rust says, to the very test', async () => {
    open.view = job({ next: { step: 'reading', test: 'c' } });
    show(Timeline, props);
    await settled();
    expect([textOf('[data-name=go-on]'), one('[data-name=go-on]').getAttribute('href')]).toEqual([
      'Measure: Test c',
      '#/job/j1/reading/c',
    ]);
    open.view = job({ next: { step: 'hand_over', test: '' } });
    await settled();
    expect([textOf('[data-name=go-on]'), one('[data-name=go-on]').getAttribute('href')]).toEqual([
      'Next: Delivery',
      '#/job/j1/hand-over',
    ]);
  });

  it('says whose turn it is, since when, and how to call them', async () => {
    const wait = { what: 'customer', since: '2026-11-28T10:00:00-05:00', due: '', whom: 'Wim Brandt' };
    open.view = job({ waiting: [{ ...wait, phone: '(512) 555-0143' }] });
    show(Timeline, props);
    await settled();
    expect(textOf('[data-name=waiting]')).toMatch(
      /^waiting for the customer Wim Brandt · since .+ Call Wim Brandt$/,
    );
    expect(one('[data-name=call]').getAttribute('href')).toBe('tel:5125550143');
    open.view = job({ waiting: [{ ...wait, phone: '' }] });
    await settled();
    expect(count('[data-name=call]')).toBe(0);
  });
});
