import { describe, expect, it } from 'vitest';
import { fitted, held, most, moved, pinch, zoomed } from './zoom';

const frame = { width: 390, height: 500 };
const base = fitted({ width: 4000, height: 3000 }, frame);

describe('a picture in its frame', () => {
  it('fits whole, and nothing is shown before its size is known', () => {
    expect(base).toEqual({ width: 390, height: 292.5 });
    expect(fitted({ width: 3000, height: 4000 }, frame)).toEqual({ width: 375, height: 500 });
    expect(fitted({ width: 0, height: 0 }, frame)).toEqual({ width: 0, height: 0 });
  });

  it('stands in the middle while it is smaller, and leaves no gap while it is larger', () => {
    expect(held({ scale: 1, x: 50, y: 0 }, base, frame)).toEqual({ scale: 1, x: 0, y: 103.75 });
    const large = held({ scale: 4, x: 100, y: -9999 }, base, frame);
    expect(large).toEqual({ scale: 4, x: 0, y: 500 - 1170 });
    expect(moved(large, { x: -9999, y: 0 }, base, frame).x).toBe(390 - 1560);
  });

  it('is enlarged to two dots a pixel at most, and no further', () => {
    expect(most({ width: 4000, height: 3000 }, base)).toBeCloseTo(8000 / 390, 6);
    expect(most({ width: 96, height: 64 }, fitted({ width: 96, height: 64 }, frame))).toBe(4);
    const limit = most({ width: 4000, height: 3000 }, base);
    expect(zoomed({ scale: 1, x: 0, y: 0 }, 1e6, { x: 0, y: 0 }, base, frame, limit).scale).toBe(limit);
    expect(zoomed({ scale: 2, x: 0, y: 0 }, 1e-6, { x: 0, y: 0 }, base, frame, limit).scale).toBe(1);
  });

  it('keeps what is under the finger under it', () => {
    const at = { x: 200, y: 240 };
    const before = zoomed(
      held({ scale: 1, x: 0, y: 0 }, base, frame),
      3,
      { x: 195, y: 250 },
      base,
      frame,
      20,
    );
    const after = zoomed(before, 1.7, at, base, frame, 20);
    const under = (zoom: typeof before) => [(at.x - zoom.x) / zoom.scale, (at.y - zoom.y) / zoom.scale];
    expect(under(after)[0]).toBeCloseTo(under(before)[0] ?? 0, 6);
    expect(under(after)[1]).toBeCloseTo(under(before)[1] ?? 0, 6);
  });

  it('two fingers have a middle and a distance', () => {
    expect(
      pinch([
        { x: 0, y: 0 },
        { x: 30, y: 40 },
      ]),
    ).toEqual({ at: { x: 15, y: 20 }, apart: 50 });
  });
});
