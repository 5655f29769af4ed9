import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { NumberView } from '../../bindings/NumberView';
import type { ProgrammingOutcomeView } from '../../bindings/ProgrammingOutcomeView';
import type { RouteView } from '../../bindings/RouteView';
import { open } from '../../state/job.svelte';
import { shop } from '../../state/shop.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { job, programming } from '../../testing/samples';
import { clear, one, press, settled, show, textOf, type } from '../../testing/screen';
import Programming from './Programming.svelte';
import ProgrammingSettings from './ProgrammingSettings.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};
const decision = {
  record: 'd',
  kept: '2026-11-28T10:00:00-05:00',
  route: 'own_tool' as const,
  provider: '',
  quoted: '0',
  appointment: '',
  reason: '',
};
const cash: NumberView = {
  name: 'cash',
  unit: 'amount',
  value: '14500',
  judged: '14500',
  typed: '',
  source: 'judgment',
  jobs: 0,
};
const route: RouteView = {
  route: 'remote_service',
  provider: 'Far Bench',
  quote: '',
  expected_cost: '20000',
  cases: [],
  expected_hours: 6,
  success: 0.96,
  done_in_8_hours: 0.9,
  cheapest: true,
  numbers: [cash],
};
const attempt = (number: number, part: Partial<ProgrammingOutcomeView>): ProgrammingOutcomeView => ({
  number,
  record: `attempt-${number}`,
  kept: '2026-11-28T12:00:00-05:00',
  route: 'own_tool',
  provider: '',
  quoted: '4000',
  corrected_by: 0,
  corrects: 0,
  outcome: 'failed',
  supply_volts: '13.6',
  software_before: '',
  software_after: '',
  billed: '4000',
  photos: [],
  checks: [],
  voltages: [],
  window: [],
  below_window: 0,
  ...part,
});

beforeEach(() => {
  forget();
  shop.view = null;
  open.view = job();
});
afterEach(clear);

it('takes a day and a time for the appointment, not any text', async () => {
  show(Programming, props);
  await settled();
  const field = one<HTMLInputElement>('[name=appointment]');
  expect(field.type).toBe('datetime-local');
  await type('appointment', '99/99/2099 25:77');
  expect(field.value).toBe('');
  await type('appointment', '2026-11-30T14:30');
  answers.programming_decide = () => job();
  await press('keep-programming');
  expect(callsOf('programming_decide')[0]?.entry).toMatchObject({ appointment: '2026-11-30T14:30' });
});

it('asks once about an unusual supply voltage, at the button', async () => {
  open.view = job({ programming: programming({ decision }) });
  show(Programming, props);
  await settled();
  await type('supply_volts', '24.8');
  answers.programming_report = refusal('control_supply_unusual', { volts: '24.8' });
  await press('keep-outcome');
  expect(textOf('[data-name=refused]')).toContain('outside 5 to 20 V');
  one('[name=supply_confirmed]').click();
  await settled();
  answers.programming_report = () => job();
  await press('keep-outcome');
  expect(callsOf('programming_report').map((sent) => sent.entry)).toMatchObject([
    { supply_volts: '24.8', supply_confirmed: false },
    { supply_volts: '24.8', supply_confirmed: true },
  ]);
});

it('shows every attempt with its bill, and corrects the one that is chosen', async () => {
  const attempts = [attempt(1, {}), attempt(2, { outcome: 'succeeded', billed: '5000' })];
  const cost = { quoted: '4000', billed: '9000', over_quote: '5000' };
  open.view = job({ programming: programming({ decision, attempts, cost }) });
  show(Programming, props);
  await settled();
  expect(textOf('[data-outcome=failed]')).toContain('$40.00');
  expect(textOf('[data-name=programming-cost]')).toBe('Quoted $40.00, billed $90.00 in all');
  const select = one<HTMLSelectElement>('[name=corrects]');
  select.value = 'attempt-1';
  select.dispatchEvent(new Event('change', { bubbles: true }));
  await settled();
  expect(one<HTMLInputElement>('[name=billed]').value).toBe('40.00');
  answers.programming_report = () => job();
  await press('keep-outcome');
  expect(callsOf('programming_report')[0]?.entry).toMatchObject({ corrects: 'attempt-1', outcome: 'failed' });
});

it('a route that is picked brings its provider, and a quote is weighed at once', async () => {
  open.view = job({ programming: programming({ routes: [route], left_out: ['own_tool'] }) });
  show(Programming, props);
  await settled();
  expect(textOf('[data-name=left-out]')).toContain('Own tool');
  expect(textOf('[data-name=number]')).toContain('a judgment');
  one('label[data-value=remote_service] input').click();
  await settled();
  expect(one<HTMLInputElement>('[name=provider]').value).toBe('Far Bench');
  answers.programming_quote_keep = () => job({ programming: programming({ routes: [route] }) });
  await type('quoted', '199');
  one('[name=quoted]').dispatchEvent(new Event('change', { bubbles: true }));
  await settled();
  expect(callsOf('programming_quote_keep')[0]).toMatchObject({
    job: 'j1',
    entry: { route: 'remote_service', quoted: '199' },
  });
});

it('a number that is refused is named at its field, and stays as typed', async () => {
  const numbers = { routes: [], numbers: [{ ...cash, name: 'module' }] };
  answers.programming_settings = () => numbers;
  answers.programming_setting_keep = refusal('amount_below_zero', { place: 'module' });
  show(ProgrammingSettings, { job: '' });
  await settled();
  await type('module', '-5');
  one('[name=module]').dispatchEvent(new Event('change', { bubbles: true }));
  await settled();
  expect(textOf('[role=alert]')).toContain('Price of a module');
  expect(one<HTMLInputElement>('[name=module]').value).toBe('-5');
});
