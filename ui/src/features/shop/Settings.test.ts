import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { Preferences } from '../../bindings/Preferences';
import { settings } from '../../state/settings.svelte';
import { answers, callsOf, forget } from '../../testing/fakeShell';
import { clear, one, settled, show } from '../../testing/screen';
import Settings from './Settings.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

beforeEach(forget);
afterEach(clear);

it('two quick choices are both kept', async () => {
  answers.preferences_keep = ({ entry }) => ({ preferences: entry as Preferences, rules: {} });
  settings.take({ language: 'en', theme: 'system', hand: 'right', vibration: true, text_size: 100 });
  show(Settings, {});
  for (const [name, value] of [
    ['hand', 'left'],
    ['theme', 'dark'],
  ])
    one(`[data-name=${name}] [data-value=${value}] input`).click();
  await settled();
  expect(callsOf('preferences_keep').at(-1)?.entry).toMatchObject({ hand: 'left', theme: 'dark' });
  expect([settings.hand, settings.theme]).toEqual(['left', 'dark']);
});
