import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../bindings/JobView';
import type { SupplierView } from '../bindings/SupplierView';
import type { PaperView } from '../bindings/PaperView';
import Part from '../features/part/Part.svelte';
import SupplierForm from '../features/money/SupplierForm.svelte';
import { answers, callsOf, drafts, forget, refusal } from '../testing/fakeShell';
import { job } from '../testing/samples';
import { clear, count, one, press, settled, show, textOf, type } from '../testing/screen';

vi.mock('../backend/shell', () => import('../testing/fakeShell'));

const money = (cents: string, typed: string) => ({ cents, typed });
const paper = (part: Partial<PaperView> = {}): PaperView => ({
  can_read: true,
  supplier: 'Copper Hollow Parts Co.',
  day: '2026-03-07',
  number: 'CH-20418',
  lines: [
    {
      description: 'Fan relay 12 V',
      part_number: 'KD-4471-B',
      quantity: '2',
      amount: money('3680', '36.80'),
      is_core: false,
    },
    {
      description: 'Core charge',
      part_number: '',
      quantity: '1',
      amount: money('4500', '45.00'),
      is_core: true,
    },
  ],
  core: money('4500', '45.00'),
  tax: money('511', '5.11'),
  tax_inside: false,
  total: money('8691', '86.91'),
  adds_up_to: money('8691', '86.91'),
  doubts: [],
  ...part,
});
const view = job({ job: 'j1' });
const account: SupplierView = {
  supplier: '',
  lines: [],
  expected: '0',
  billed: '0',
  paid: '0',
  over_expected: '0',
  owed: '0',
  to_come_back: '0',
};
/** A form whose photo is on record already. */
function withPhoto(form: string): void {
  drafts.set(`j1 ${form}`, JSON.stringify({ photos: ['f1'] }));
}
const fieldOf = (name: string): string => one<HTMLInputElement>(`[name=${name}]`).value;

async function shown(answer: PaperView, at: JobView = view): Promise<void> {
  answers.paper_read = ({ entry }) => {
    const { photo } = entry as { photo: string | null };
    return photo === null ? { ...paper(), can_read: answer.can_read, lines: [], total: null } : answer;
  };
  withPhoto('supplier_step');
  show(SupplierForm, { view: at });
  for (let turn = 0; turn < 4; turn += 1) await settled();
}

beforeEach(forget);
afterEach(clear);

describe('a supplier’s paper', () => {
  it('is read when it is asked for, and one tap fills one empty field', async () => {
    await shown(paper());
    await press('paper-read');
    expect(callsOf('paper_read').at(-1)).toEqual({ job: 'j1', entry: { photo: 'f1' } });
    expect(textOf('[data-name=paper-proof]')).toContain('86.91');
    expect(fieldOf('supplier_amount')).toBe('');
    await press('paper-total');
    expect(fieldOf('supplier_amount')).toBe('86.91');
    expect(count('[data-name=paper-total]')).toBe(0);
    await press('paper-number');
    await press('paper-day');
    expect([fieldOf('supplier_reference'), fieldOf('supplier_day')]).toEqual(['CH-20418', '2026-03-07']);
  });

  it('takes the place of a supplier that the form itself put in', async () => {
    await shown(paper(), job({ job: 'j1', suppliers: [{ ...account, supplier: 'Tarn Electric' }] }));
    expect(fieldOf('supplier')).toBe('Tarn Electric');
    await press('paper-read');
    await press('paper-supplier');
    expect(fieldOf('supplier')).toBe('Copper Hollow Parts Co.');
  });

  it('never takes the place of what is typed', async () => {
    await shown(paper());
    await type('supplier_amount', '90.00');
    await press('paper-read');
    expect(count('[data-name=paper-total]')).toBe(0);
    expect(fieldOf('supplier_amount')).toBe('90.00');
  });

  it('whose lines contradict its total is said so', async () => {
    await shown(paper({ doubts: ['sums_differ'], adds_up_to: money('8591', '85.91') }));
    await press('paper-read');
    expect(textOf('[data-name=paper-doubt]')).toContain('85.91');
    expect(count('[data-name=paper-proof]')).toBe(0);
    expect(one('[data-name=paper-total]').classList.contains('sure')).toBe(false);
  });

  it('is typed by hand where nothing can read it, and that is all that is said', async () => {
    await shown(paper({ can_read: false }));
    expect(textOf('[data-name=paper-by-hand]')).toContain('by hand');
    expect(count('[data-name=paper-read]')).toBe(0);
    expect(callsOf('paper_read')).toHaveLength(1);
  });

  it('that can’t be read says what to do', async () => {
    await shown(paper({ total: null, lines: [] }));
    await press('paper-read');
    expect(textOf('[data-name=paper-nothing]')).toContain('type it');
  });

  it('is refused with words where the networks are damaged, and can be asked for again', async () => {
    await shown(paper());
    answers.paper_read = refusal('paper_not_read');
    await press('paper-read');
    expect(document.body.textContent).toContain('by hand');
    expect(count('[data-name=paper-read]')).toBe(1);
  });

  it('offers each line to a part, with its core', async () => {
    answers.paper_read = () => paper();
    withPhoto('part');
    show(Part, { view, about: '' });
    for (let turn = 0; turn < 4; turn += 1) await settled();
    await press('paper-read');
    await press('paper-line-1');
    const filled = ['description', 'part_number', 'price'].map(fieldOf);
    expect(filled).toEqual(['Fan relay 12 V', 'KD-4471-B', '36.80']);
    await press('paper-core');
    expect(fieldOf('core_charge')).toBe('45.00');
    expect(count('[data-name=paper-line-2]')).toBe(0);
  });
});
