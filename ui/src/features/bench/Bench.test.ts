import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { BenchView } from '../../bindings/BenchView';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { circuit, diagnosis, job, reading, test } from '../../testing/samples';
import { clear, count, one, press, settled, show, textOf } from '../../testing/screen';
import Reasoning from '../diagnosis/Reasoning.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

/** A drawing 366 px wide with one point. */
function bench(shown: string): BenchView {
  const nothing = { bars: [], wires: [], boxes: [], links: [], symbols: [], names: [], rings: [], beads: [] };
  const more = {
    capsules: [],
    stubs: [],
    discs: [],
    eyes: [],
    plates: [],
    listed: [],
    left_out: [],
    aids: [],
  };
  const positions = ['off', 'on'].map((id) => ({
    id,
    name: { en: id, es: id },
    readings: id === 'on' ? 2 : 0,
  }));
  return {
    picture: {
      ...nothing,
      ...more,
      width: 366,
      height: 300,
      drawn: true,
      folded: 0,
      touches: [{ x: 100, y: 100, size: 48, point: 'p' }],
    },
    healthy: { p: shown === 'on' ? 12.5 : 0 },
    switch: { id: 'key', name: { en: 'Key', es: 'Llave' }, positions, shown },
  };
}

async function tap(x: number, y: number): Promise<void> {
  const drawing = document.querySelector('[data-name=bench-drawing]');
  if (!drawing) throw new Error('nothing is drawn');
  drawing.getBoundingClientRect = () => new DOMRect(0, 0, 366, 300);
  drawing.dispatchEvent(new MouseEvent('click', { clientX: x, clientY: y, bubbles: true }));
  await settled();
}

beforeEach(async () => {
  forget();
  answers.bench_view = ({ entry }) => bench((entry as { position: string }).position || 'on');
  const next_step = { ...diagnosis().next_step, test: 'a' };
  const circuitOfA = { ...circuit(), tests: [{ ...test('a'), expected: 12.4 }] };
  const view = job({ circuit: circuitOfA, diagnosis: diagnosis({ next_step }), readings: [reading(1)] });
  show(Reasoning, { view, about: '' });
  await settled();
});
afterEach(clear);

describe('the bench', () => {
  it('says what a healthy circuit shows, beside the leads', () => {
    expect(textOf('[data-name=next-healthy]')).toBe('12.4 V');
    expect(textOf('.plate.red')).toBe('RED');
  });
  it('is asked for anew in the position that is picked', async () => {
    one<HTMLInputElement>('[data-name=bench-switch] [data-value=off] input').click();
    await settled();
    expect(callsOf('bench_view').map(({ entry }) => (entry as { position: string }).position)).toEqual([
      '',
      'off',
    ]);
  });
  it('gives a tapped point a lead, in the position that is looked at', async () => {
    await tap(110, 110);
    expect(one<HTMLAnchorElement>('[data-name=red-here]').getAttribute('href')).toBe(
      '#/job/j1/reading/leads~p~p~key~on',
    );
    expect(textOf('[data-name=bench-point]')).toContain('12.5 V');
    await press('close-point');
    expect(count('[data-name=bench-point]')).toBe(0);
  });
  it('reaches every point without the drawing', async () => {
    await press('bench-point-p');
    expect(count('[data-name=bench-point]')).toBe(1);
  });
  it('does nothing where nothing is', async () => {
    await tap(300, 10);
    expect(count('[data-name=bench-point]')).toBe(0);
  });
});

it('says why it can’t be drawn, and the next test all the same', async () => {
  await clear();
  answers.bench_view = refusal('circuit_refused');
  show(Reasoning, { view: job(), about: '' });
  await settled();
  expect(count('[role=alert]')).toBe(1);
  expect(count('[data-name=next-step]')).toBe(1);
});
