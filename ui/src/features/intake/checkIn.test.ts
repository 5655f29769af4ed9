import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import { open } from '../../state/job.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, one, pick, press, settled, show, textOf, type } from '../../testing/screen';
import Approval from '../approval/Approval.svelte';
import Intake from './Intake.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};
const totals = {
  parts: '0',
  labour: '70000',
  sublet: '0',
  other: '0',
  tax: '0',
  total: '70000',
  tax_included: false,
};
const version = {
  record: 'e1',
  version: 1,
  kept: '',
  lines: [],
  totals,
  approved_by: '',
  answered: false,
  holds_until: '',
  changes: [],
};

beforeEach(() => {
  forget();
  open.view = job();
});
afterEach(clear);

describe('who may approve', () => {
  it('is kept field by field, the limit as it is typed', async () => {
    show(Intake, props);
    await settled();
    await type('approver_limit', '600');
    answers.intake_keep = () => job({ intake: { ...job().intake, approver_limit: '60000' } });
    one('[name=approver_limit]').dispatchEvent(new Event('change', { bubbles: true }));
    await settled();
    expect(callsOf('intake_keep')[0]?.entry).toEqual({ approver_limit: '600' });
    expect(one<HTMLInputElement>('[name=approver_limit]').value).toBe('600.00');
  });

  it('of an older record is shown as it was written, and is nobody to sign with', async () => {
    const approver = 'Wim, my brother, up to 600';
    open.view = job({ intake: { ...job().intake, customer: 'Odalys Brandt', approver } });
    show(Intake, props);
    await settled();
    expect(textOf('[data-name=approver-earlier]')).toContain(approver);
    await clear();
    open.view = { ...props.view, estimates: [version], can: {} };
    show(Approval, props);
    await settled();
    expect(one<HTMLInputElement>('[name=approval_name]').value).toBe('Odalys Brandt');
    expect(textOf('[data-name=may-approve]')).toContain(approver);
  });

  it('is offered by name beside the customer, and above the limit it is said', async () => {
    const intake = { ...job().intake, customer: 'Odalys Brandt', approver_name: 'Wim Brandt' };
    open.view = job({
      intake: { ...intake, approver_role: 'brother', approver_limit: '60000' },
      estimates: [version],
      advice: ['over_approver_limit'],
    });
    show(Approval, props);
    await settled();
    expect(textOf('[data-name=may-approve]')).toMatch(/^Wim Brandt \(brother\) may approve up to .*600\.00/);
    expect(count('[data-name=over-limit]')).toBe(1);
    await pick('approval_who', 'Wim Brandt');
    expect(one<HTMLInputElement>('[name=approval_name]').value).toBe('Wim Brandt');
  });
});

describe('fault codes', () => {
  const code = { code: 'P0301', status: 'stored' as const, module: 'PCM', freeze_frame: [] };

  it('go on record one by one, with what stands there already', async () => {
    open.view = job({ intake: { ...job().intake, fault_codes: [code] } });
    show(Intake, props);
    await settled();
    await type('fault_code', 'u0100-87');
    await pick('fault_status', 'pending');
    await press('frame-more');
    await type('frame-name-0', 'Speed');
    await type('frame-value-0', '0');
    answers.intake_keep = () => job();
    await press('keep-fault-code');
    const freeze_frame = [{ name: 'Speed', value: '0', unit: '' }];
    expect(callsOf('intake_keep')[0]).toEqual({
      form: { job: 'j1', draft: 'fault_code', records: null },
      entry: { fault_codes: [code, { code: 'u0100-87', status: 'pending', module: '', freeze_frame }] },
    });
    expect(one<HTMLInputElement>('[name=fault_code]').value).toBe('');
  });

  it('that are refused stay typed', async () => {
    show(Intake, props);
    await settled();
    await type('fault_code', 'P9');
    answers.intake_keep = refusal('fault_code_form', { value: 'P9' });
    await press('keep-fault-code');
    expect(textOf('[data-name=refused]')).toContain('not a fault code');
    expect(one<HTMLInputElement>('[name=fault_code]').value).toBe('P9');
  });

  it('come off the list', async () => {
    open.view = job({ intake: { ...job().intake, fault_codes: [code, { ...code, code: 'U0100' }] } });
    show(Intake, props);
    await settled();
    answers.intake_keep = () => job();
    document.querySelectorAll<HTMLElement>('[data-name=fault-remove]')[0]?.click();
    await settled();
    expect(callsOf('intake_keep')[0]?.entry).toEqual({ fault_codes: [{ ...code, code: 'U0100' }] });
  });
});

describe('a VIN', () => {
  it('offers its year for the field, with the other year it can mean', async () => {
    answers.vin_check = () => ({
      vin: 'X',
      verdict: { allowed: true, reason: '', values: {} },
      position: 0,
      model_year: '2016',
      model_year_otherwise: '1986',
      region: 'asia',
    });
    answers.intake_keep = () => job({ intake: { ...job().intake, year: '2016' } });
    show(Intake, props);
    await settled();
    await type('vin', 'X');
    one('[name=vin]').dispatchEvent(new Event('change', { bubbles: true }));
    await settled();
    expect(document.body.textContent).toMatch(/2016 for cars and light trucks.*1986.*issued in Asia/s);
    open.view = job();
    await settled();
    await press('vin-year');
    expect(callsOf('intake_keep').at(-1)?.entry).toEqual({ year: '2016' });
    expect(count('[data-name=vin-year]')).toBe(0);
  });
});
