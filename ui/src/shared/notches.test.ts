import { expect, test } from 'vitest';
import { folded, notches } from './notches';

test('each kept record cuts a notch, and many fold to a number', () => {
  const cut = (kept: number): number => notches(kept - folded(kept)).split('L').length / 2 - 0.5;
  expect([0, 1, 7, 9].map((kept) => [cut(kept), folded(kept)])).toEqual([
    [0, 0],
    [1, 0],
    [7, 0],
    [9, 0],
  ]);
  for (const kept of [10, 182, 2_000]) expect(cut(kept) + folded(kept)).toBe(kept);
  expect(cut(2_000)).toBe(9);
});
