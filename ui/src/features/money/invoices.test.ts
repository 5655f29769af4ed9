import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { InvoiceView } from '../../bindings/InvoiceView';
import type { JobView } from '../../bindings/JobView';
import { open } from '../../state/job.svelte';
import { settings, usualLocale } from '../../state/settings.svelte';
import { forget } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, settled, show, textOf } from '../../testing/screen';
import Invoice from './Invoice.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const first = '2026-10-12T09:00:00-05:00';
const second = '2026-10-13T10:30:00-05:00';
const invoice = (part: Partial<InvoiceView>): InvoiceView => ({
  record: part.kept ?? '',
  number: '1',
  kept: first,
  lines: [],
  totals: {
    parts: '10000',
    labour: '0',
    sublet: '0',
    other: '0',
    tax: '2000',
    total: '12000',
    tax_included: true,
  },
  approved: '12000',
  credited: '0',
  seller_number: '',
  replaced: '',
  replaces: '',
  ...part,
});
const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};

beforeEach(forget);
afterEach(async () => {
  settings.locale = usualLocale;
  await clear();
});

it('an invoice that was replaced and the one in its place name each other', async () => {
  open.view = job({
    invoices: [invoice({ kept: first, replaced: second }), invoice({ kept: second, replaces: first })],
  });
  show(Invoice, props);
  await settled();
  expect(textOf('[data-name=replaced]')).toContain('the invoice of Oct 13, 2026, 10:30 AM took its place');
  expect(textOf('[data-name=replaces]')).toContain('Oct 12, 2026, 9:00 AM');
});

it('with tax in the prices the sums say what they are, and the seller’s number stands under its name', async () => {
  settings.locale = { ...usualLocale, tax_name: 'vat', seller_number: 'vat', prices_include_tax: true };
  open.view = job({ invoices: [invoice({ seller_number: 'DEMO 7001' })] });
  show(Invoice, props);
  await settled();
  expect(textOf('[data-name=seller-number]')).toBe('VAT number: DEMO 7001');
  const sums = document.querySelector('[data-name=invoice] dl')?.textContent ?? '';
  expect(sums).toContain('Parts, without VAT');
  expect(sums).toContain('VAT in the total');
  expect(count('[data-name=replaced]')).toBe(0);
});
