import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { SeriesView } from '../../bindings/SeriesView';
import type { ShopView } from '../../bindings/ShopView';
import { shop } from '../../state/shop.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { clear, count, one, press, settled, show, textOf, type } from '../../testing/screen';
import ShopForm from './ShopForm.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const alone: SeriesView = {
  invoice_prefix: '',
  credit_prefix: '',
  invoices_begin: 'INV-',
  credit_notes_begin: 'CN-',
  code: '4WJ3',
  numbered_apart: false,
  always_apart: false,
  other_devices: false,
};

async function form(series: SeriesView): Promise<void> {
  const known: Partial<ShopView> = { set_up: true, labour_rate: '100', tax_rate: 0, series };
  shop.view = known as ShopView;
  answers.regions = () => [];
  show(ShopForm, {});
  await settled();
}

beforeEach(forget);
afterEach(async () => {
  shop.view = null;
  await clear();
});

it('a shop with one phone chooses how numbers begin and hears of no code', async () => {
  await form(alone);
  expect(textOf('[data-name=series]')).toContain('INV-');
  expect(count('[name=numbered_apart]')).toBe(0);
  await type('invoice_prefix', 'A-B');
  answers.shop_set_up = refusal('unknown_choice', { what: 'invoice_prefix', value: 'A-B' });
  await press('set-up');
  expect(callsOf('shop_set_up')[0]?.entry).toMatchObject({ invoice_prefix: 'A-B', numbered_apart: false });
  expect(textOf('[data-name=refused]')).toContain('no spaces or dashes');
});

it('the code is offered once another phone is known, and stays on one made from a backup', async () => {
  await form({ ...alone, other_devices: true });
  one<HTMLInputElement>('[name=numbered_apart]').click();
  await settled();
  answers.shop_set_up = refusal('unknown_choice', { what: 'region', value: '' });
  await press('set-up');
  expect(callsOf('shop_set_up')[0]?.entry).toMatchObject({ numbered_apart: true });
  await clear();
  await form({ ...alone, other_devices: true, numbered_apart: true, always_apart: true });
  expect(count('[name=numbered_apart]')).toBe(0);
  expect(textOf('[data-name=series-always]')).toContain('4WJ3');
});
