import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { OwnLineView } from '../../bindings/OwnLineView';
import { open } from '../../state/job.svelte';
import { shop } from '../../state/shop.svelte';
import { answers, callsOf, forget } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, press, settled, show, textOf } from '../../testing/screen';
import Estimate from './Estimate.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const totals = {
  parts: '0',
  labour: '0',
  sublet: '0',
  other: '0',
  tax: '0',
  total: '900',
  tax_included: false,
};
const own = (description: string, pinned: boolean): OwnLineView => ({
  line: {
    kind: 'part',
    description,
    quantity: '2',
    unit_price: '4550',
    amount: '9100',
    condition: 'used',
    part_number: 'R-1',
    provider: '',
    taxed: true,
  },
  pinned,
  jobs: 3,
});
const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};

beforeEach(() => {
  forget();
  shop.view = null;
  answers.lines_total = () => totals;
  answers.own_lines = () => [
    own('Starter relay', true),
    ...'abcdefgh'.split('').map((one) => own(one, false)),
  ];
  open.view = job({ blamed: { name: { en: 'starter relay', es: 'relé' }, is_part: true } });
});
afterEach(clear);

async function chooser(): Promise<void> {
  show(Estimate, props);
  await settled();
  expect(count('[data-name=line-chooser]')).toBe(0);
  await press('line-add');
  await settled();
}

it('one button opens what a line can be, and a tap fills the line in', async () => {
  await chooser();
  expect(count('[data-name=own-line]')).toBe(6);
  document.querySelector<HTMLButtonElement>('[data-name=own-line]')?.click();
  await settled();
  expect(count('[data-name=line-chooser]')).toBe(0);
  expect(callsOf('lines_total').at(-1)?.entry).toMatchObject({
    lines: [
      { kind: 'part', description: 'Starter relay', quantity: '2', unit_price: '45.50', condition: 'used' },
    ],
  });
  expect(textOf('[data-name=total]')).toBe('$9.00');
});

it('what the finding blames comes as a part and as work on it', async () => {
  await chooser();
  await press('add-blamed-labour');
  await press('line-add');
  await press('add-blamed-part');
  // Sold before, it comes with its price of then.
  expect(callsOf('lines_total').at(-1)?.entry).toMatchObject({
    lines: [
      { kind: 'labour', description: 'Replace starter relay' },
      { kind: 'part', description: 'Starter relay', condition: 'used', unit_price: '45.50' },
    ],
  });
});

it('a pin is kept by Rust, and the list is what Rust says', async () => {
  await chooser();
  answers.line_pin = () => [own('a', true)];
  document.querySelector<HTMLButtonElement>('[data-name=pin]')?.click();
  await settled();
  expect(callsOf('line_pin')[0]?.entry).toMatchObject({
    pinned: false,
    line: { description: 'Starter relay' },
  });
  expect(count('[data-name=own-line]')).toBe(1);
});
