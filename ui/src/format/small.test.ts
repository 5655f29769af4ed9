import { describe, expect, it } from 'vitest';
import { wirePaints } from './wirePaint';
import { letterOf } from '../features/bench/drawing';
import { movePoint } from '../features/meter/meter';
import { isSignature, strokesToPath } from '../shared/signature';

describe('a signature', () => {
  it('is moves and lines with one decimal, a dot for a touch', () => {
    expect(
      strokesToPath([
        [
          [1, 2],
          [3.14159, 4],
        ],
        [[5, 6]],
      ]),
    ).toBe('M1.0 2.0L3.1 4.0M5.0 6.0L5.0 6.0');
  });

  it.each([
    ['', false],
    ['M5.0 6.0L5.0 6.0', false],
    ['M0.0 0.0L30.0 0.0M100.0 0.0L130.0 0.0', false],
    ['M0.0 0.0L30.0 0.0L30.0 10.0', true],
  ])('%s is one: %s', (path, is) => expect(isSignature(path)).toBe(is));

  it('is empty without a stroke', () => expect(strokesToPath([])).toBe(''));
});

describe('wire colours (IEC 60757)', () => {
  it('reads base and stripe and leaves out what is no code', () => {
    expect(wirePaints('BUYE')).toHaveLength(2);
    expect(wirePaints('gnye')).toHaveLength(2);
    expect(wirePaints('XX')).toEqual([]);
  });
});

describe('a decimal text', () => {
  it.each([
    ['10000000', 6, '10'],
    ['3000', 3, '3'],
    ['500', 3, '0.5'],
    ['10500000', 6, '10.5'],
    ['', 3, ''],
  ])('%s moved by %d is %s', (text, places, moved) => expect(movePoint(text, places)).toBe(moved));
});

describe('letters of points', () => {
  it('go on after Z', () => expect([0, 25, 26, 27].map(letterOf)).toEqual(['A', 'Z', 'AA', 'AB']));
});
