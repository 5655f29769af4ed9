import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { LineView } from '../../bindings/LineView';
import { open } from '../../state/job.svelte';
import { shop } from '../../state/shop.svelte';
import { answers, callsOf, drafts, forget, refusal } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, press, settled, show, textOf, type } from '../../testing/screen';
import Approval from '../approval/Approval.svelte';
import Estimate from './Estimate.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const totals = {
  parts: '0',
  labour: '100',
  sublet: '0',
  other: '0',
  tax: '0',
  total: '100',
  tax_included: false,
};
const line: LineView = {
  kind: 'fee',
  description: 'Fee',
  quantity: '1',
  unit_price: '100',
  amount: '100',
  condition: '',
  part_number: '',
  provider: '',
  taxed: false,
};
const version = {
  record: 'e1',
  version: 1,
  kept: '',
  lines: [line, line, line],
  totals,
  approved_by: '',
  answered: false,
  holds_until: '',
  changes: [],
};
const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};

beforeEach(() => {
  forget();
  shop.view = null;
  open.view = job({ estimates: [version] });
});
afterEach(clear);

describe('a line that can’t be read', () => {
  it('is said once, at the line, and the total is unknown', async () => {
    answers.lines_total = () => totals;
    show(Estimate, props);
    await settled();
    expect(textOf('[data-name=estimate] [data-name=total]')).toBe('$1.00');
    answers.lines_total = refusal('amount_unreadable', { line: '2' });
    await type('price-2', '1..2');
    await new Promise((later) => setTimeout(later, 350));
    await settled();
    expect(textOf('fieldset:has([name=price-2]) [role=alert]')).toContain('This isn’t an amount.');
    expect(textOf('[data-name=total-unknown]')).toBe('Unknown until line 2 can be read.');
    expect(document.querySelector('[data-name=total]')?.textContent).toBe('–');
    answers.estimate_keep = refusal('amount_unreadable', { line: '2' });
    await press('keep-estimate');
    expect(count('[role=alert]')).toBe(1);
    expect(callsOf('estimate_keep')[0]?.form).toEqual({ job: 'j1', draft: 'estimate', records: 7 });
  });
});

describe('a signature', () => {
  it('of one dot is refused at the button; a stroke is sent', async () => {
    const signed = (signature: string): string =>
      JSON.stringify({
        version: 1,
        name: 'A',
        channel: 'in_person',
        words: '',
        old_parts: 'return',
        signature,
      });
    drafts.set('j1 approval', signed('M5.0 6.0L5.0 6.0M9.0 9.0L20.0 20.0'));
    answers.approval_keep = () => job({ estimates: [{ ...version, approved_by: 'x' }] });
    show(Approval, props);
    await settled();
    await press('keep-approval');
    expect(textOf('[data-name=refused]')).toContain('too short to be a signature');
    expect(callsOf('approval_keep')).toEqual([]);
    await clear();
    drafts.set('j1 approval', signed('M5.0 6.0L25.0 6.0L45.0 6.0'));
    show(Approval, props);
    await settled();
    await press('keep-approval');
    expect(callsOf('approval_keep')[0]?.form).toEqual({ job: 'j1', draft: 'approval', records: 7 });
  });
});
