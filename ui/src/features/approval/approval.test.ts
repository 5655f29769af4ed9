import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import { open } from '../../state/job.svelte';
import { settings } from '../../state/settings.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, one, press, settled, show, textOf, type } from '../../testing/screen';
import Approval from './Approval.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const totals = {
  parts: '0',
  labour: '9000',
  sublet: '0',
  other: '0',
  tax: '0',
  total: '9000',
  tax_included: false,
};
const line = {
  kind: 'labour',
  description: 'Fit the relay',
  quantity: '1',
  unit_price: '9000',
  amount: '9000',
  condition: '',
  part_number: '',
  provider: '',
  taxed: false,
};
const version = {
  record: 'e1',
  version: 1,
  kept: '',
  lines: [line],
  totals,
  approved_by: '',
  answered: false,
  holds_until: '2026-10-28',
  changes: [],
};
const draft = { en: 'Reply YES', es: 'Responda SÍ' };
const asking = (part: Partial<JobView> = {}): JobView =>
  job({ estimates: [version], request_draft: draft, request_longest: 20, ...part });
const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};
const message = (): string => one<HTMLTextAreaElement>('[name=request_text]').value;
const pick = async (field: string, value: string): Promise<void> => {
  document.querySelector<HTMLElement>(`[data-name=${field}] [data-value=${value}] input`)?.click();
  await settled();
};

beforeEach(forget);
afterEach(async () => {
  settings.language = 'en';
  await clear();
});

it('the question is in the customer’s language, and what was typed in the other one stays', async () => {
  open.view = asking();
  open.view.intake.language = 'es';
  show(Approval, props);
  await settled();
  expect(message()).toBe('Responda SÍ');
  await type('request_text', 'Responda SÍ, por favor');
  await pick('request_language', 'en');
  expect(message()).toBe('Reply YES');
  await pick('request_language', 'es');
  expect(message()).toBe('Responda SÍ, por favor');
  answers.approval_request = () => asking();
  await press('keep-request');
  expect(callsOf('approval_request')[0]?.entry).toMatchObject({ language: 'es', version: 1 });
});

it('how long a message may be is what Rust says', async () => {
  open.view = asking();
  show(Approval, props);
  await settled();
  expect(document.body.textContent).toContain('9 of 20 characters');
  expect(textOf('[data-name=holds-until]')).toContain('Oct 28, 2026');
});

it('an answer goes with its own day and time, and a wrong one is said with its remedy', async () => {
  open.view = asking();
  show(Approval, props);
  await settled();
  await type('approval_given_at', '2026-10-12T07:59');
  answers.approval_keep = refusal('approval_before_estimate', {
    field: 'given_at',
    version: '1',
    moment: '2026-10-12T08:00:00-05:00',
  });
  await press('keep-approval');
  expect(callsOf('approval_keep')[0]?.entry).toMatchObject({ given_at: '2026-10-12T07:59' });
  expect(textOf('[data-name=refused]')).toContain('Oct 12, 2026, 8:00 AM');
});

it('a waiver is offered where Rust allows one, in the customer’s language', async () => {
  open.view = asking({ written_wanted: true });
  show(Approval, props);
  await settled();
  expect(count('[data-name=waive]')).toBe(0);
  expect(count('[data-name=written-wanted]')).toBe(0);
  await pick('channel', 'phone');
  expect(textOf('[data-name=written-wanted]')).toContain('in writing');
  await clear();
  const allowed = { allowed: true, reason: '', values: {} };
  open.view = asking({ can: { waive_estimate: allowed }, waiver_draft: { en: 'I waive', es: 'Renuncio' } });
  open.view.intake.language = 'es';
  show(Approval, props);
  await settled();
  expect(one<HTMLTextAreaElement>('[name=waiver_words]').value).toBe('Renuncio');
});
