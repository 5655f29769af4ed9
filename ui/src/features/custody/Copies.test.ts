import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { answers, callsOf, forget } from '../../testing/fakeShell';
import { clear, one, settled, show } from '../../testing/screen';
import Copies from './Copies.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

beforeEach(forget);
afterEach(clear);

const WORDS = 'amber barrel candle dinner echo fabric garden hollow';

it('a check says what it read and what did not hold', async () => {
  answers.shop_check = () => ({
    finished: '2031-04-05T09:00:00.000-05:00',
    found: 2,
    records: 41,
    not_vouched: 3,
    photos: 12,
  });
  show(Copies, {});
  one('[data-name=check-shop] [data-name=check-shop-now]').click();
  await settled();
  const said = one('[data-name=check-shop]').textContent;
  for (const part of ['2', '41', '12', '3']) expect(said).toContain(part);
  expect(callsOf('shop_check')).toHaveLength(1);
});

it('records of an unknown device come in once its key was compared, and only that key is trusted', async () => {
  const stranger = { device: 'device-77', fingerprint: 'ab'.repeat(32), words: WORDS };
  answers.open_import = ({ trust }) => {
    const trusted = (trust as string[]).length > 0;
    return {
      records_added: trusted ? 9 : 0,
      records_known: 0,
      photos_added: 0,
      strangers: trusted ? [] : [stranger],
      refused: trusted ? [] : ['logs/a.jsonl: signed by no key known here'],
    };
  };
  show(Copies, {});
  one<HTMLInputElement>('[name=import_path]').value = '/somewhere';
  one('[name=import_path]').dispatchEvent(new Event('input', { bubbles: true }));
  await settled();
  one('[data-name=take-in-folder]').click();
  await settled();
  expect(one('[data-name=stranger]').textContent).toContain(WORDS);
  expect(callsOf('open_import').at(-1)?.trust).toEqual([]);
  one('[data-name=trust-key]').click();
  await settled();
  expect(callsOf('open_import').at(-1)?.trust).toEqual([stranger.fingerprint]);
  expect(document.querySelector('[data-name=stranger]')).toBeNull();
});
