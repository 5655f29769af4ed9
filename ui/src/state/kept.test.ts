import { expect, test } from 'vitest';
import { Kept } from './kept.svelte';

test('a second tap while the first is kept keeps nothing twice', async () => {
  const kept = new Kept();
  const answers: ((value: string) => void)[] = [];
  const keep = (): Promise<string> => new Promise((answer) => answers.push(answer));
  const first = kept.once(keep);
  expect(await kept.once(keep)).toBeUndefined();
  answers[0]?.('one record');
  expect(await first).toBe('one record');
  expect(answers.length).toBe(1);
  expect(kept.now.state).toBe('kept');
});

test('after a refusal the next tap is a new one', async () => {
  const kept = new Kept();
  expect(await kept.once(() => Promise.reject(new Error('no room')))).toBeUndefined();
  expect(kept.now.state).toBe('failed');
  expect(await kept.once(() => Promise.resolve('kept'))).toBe('kept');
});
