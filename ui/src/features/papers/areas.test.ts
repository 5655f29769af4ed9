import { describe, expect, it } from 'vitest';
import { between, isDrawn, pointIn } from './areas';

const box = { left: 10, top: 100, width: 200, height: 400 };

describe('areas of a photo', () => {
  it('reads a finger’s place in thousandths of the picture', () => {
    expect(pointIn(box, 60, 200)).toEqual({ x: 250, y: 250 });
  });

  it('keeps a finger that leaves the picture on its edge', () => {
    expect(pointIn(box, -5, 900)).toEqual({ x: 0, y: 1000 });
  });

  it('makes the same rectangle whichever corner comes first', () => {
    const area = { left: 100, top: 200, width: 300, height: 50 };
    expect(between({ x: 100, y: 250 }, { x: 400, y: 200 })).toEqual(area);
    expect(between({ x: 400, y: 200 }, { x: 100, y: 250 })).toEqual(area);
  });

  it('tells a touch from a drawn rectangle', () => {
    expect(isDrawn(between({ x: 500, y: 500 }, { x: 504, y: 700 }))).toBe(false);
    expect(isDrawn(between({ x: 500, y: 500 }, { x: 600, y: 700 }))).toBe(true);
  });
});
