import { describe, expect, it } from 'vitest';
import { leadOf, pathOf, tapped, tornEdge } from './shapes';

const touches = [
  { x: 100, y: 100, size: 48, point: 'fuse_out' },
  { x: 140, y: 100, size: 48, point: 'relay_30' },
];

describe('a tap on the drawing', () => {
  it('finds the nearest point', () => expect(tapped(touches, 105, 110)).toEqual(['fuse_out']));
  it('asks between two that lie equally near', () =>
    expect(tapped(touches, 121, 100)).toEqual(['relay_30', 'fuse_out']));
  it('finds nothing far from all', () => expect(tapped(touches, 300, 300)).toEqual([]));
});

describe('strokes', () => {
  it('run through all corners', () =>
    expect(
      pathOf([
        [1, 2],
        [3, 4],
      ]),
    ).toBe('M1 2L3 4'));
  it('of a lead end at its plate, its tip 8 px off the point', () => {
    const plate = {
      x: 0,
      y: 0,
      width: 60,
      height: 28,
      lead: 'red' as const,
      text: 'RED',
      tip: [0, 0] as [number, number],
      end: [100, 0] as [number, number],
      point: 'a',
    };
    expect(leadOf(plate)).toEqual({ tip: 'M8 0L26 0', handle: 'M26 0L100 0' });
  });
  it('of a bad reading close where they began', () => {
    const bead = {
      x: 50,
      y: 20,
      width: 80,
      height: 28,
      number: '0.31',
      unit: 'V',
      text: '0.31',
      judged: 'low' as const,
      now: true,
      across: null,
      points: ['a'],
      observation: 'r',
    };
    expect(tornEdge(bead)).toMatch(/^M10 6h80.*z$/);
  });
});
