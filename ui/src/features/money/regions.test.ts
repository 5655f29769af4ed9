import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import { open } from '../../state/job.svelte';
import { settings, usualLocale } from '../../state/settings.svelte';
import { shop } from '../../state/shop.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, one, press, settled, show, textOf } from '../../testing/screen';
import HandOver from '../part/HandOver.svelte';
import Programming from '../programming/Programming.svelte';
import Estimate from './Estimate.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const totals = {
  parts: '0',
  labour: '0',
  sublet: '0',
  other: '0',
  tax: '0',
  total: '123450',
  tax_included: false,
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
  answers.lines_total = () => totals;
});
afterEach(async () => {
  settings.locale = usualLocale;
  await clear();
});

it.each([
  ['labour', ['labour', 'part'], true],
  ['labour', ['part'], false],
  ['part', [], false],
] as const)('a new line of %s where %j is taxed starts taxed: %s', async (kind, taxed_kinds, taxed) => {
  open.view = job({ taxed_kinds: [...taxed_kinds] });
  show(Estimate, props);
  await settled();
  await press('line-add');
  await press(`add-${kind}`);
  expect(callsOf('lines_total').at(-1)?.entry).toMatchObject({ lines: [{ kind, taxed }] });
});

it('amounts and the name of the tax are those of the region', async () => {
  settings.locale = {
    ...usualLocale,
    sign: '€',
    sign_place: 'after',
    decimal: ',',
    group: '.',
    tax_name: 'iva',
  };
  open.view = job();
  show(Estimate, props);
  await settled();
  await press('line-add');
  await press('add-fee');
  expect(textOf('[data-name=total]')).toBe('1.234,50 €');
  expect(document.querySelector('dl')?.textContent).toContain('VAT (IVA)');
});

it('a refused line for supplies is said at the line, with what to do', async () => {
  open.view = job();
  show(Estimate, props);
  await settled();
  await press('line-add');
  await press('add-supplies');
  answers.estimate_keep = refusal('supplies_not_allowed', { line: '1' });
  await press('keep-estimate');
  expect(textOf('[data-name=line-refused]')).toContain('List what was used as parts');
});

it('a provider that nobody was told of is warned of where the module is programmed', async () => {
  open.view = job({ advice: ['provider_not_disclosed'] });
  show(Programming, props);
  await settled();
  expect(textOf('[data-name=not-disclosed]')).toContain('sublet line');
  await clear();
  open.view = job();
  show(Programming, props);
  await settled();
  expect(count('[data-name=not-disclosed]')).toBe(0);
});

it('parts of work approved by phone are held, and the hand-over asks what became of the old ones', async () => {
  open.view = job({ advice: ['parts_are_held'] });
  show(HandOver, props);
  await settled();
  expect(textOf('[data-name=parts-held]')).toContain('until the vehicle is picked up');
  answers.hand_over = refusal('old_parts_unanswered');
  await press('keep-hand-over');
  expect(textOf('[data-name=refused]')).toContain('what happened to the old parts');
  expect(one<HTMLTextAreaElement>('[name=old_parts]').value).toBe('');
});
