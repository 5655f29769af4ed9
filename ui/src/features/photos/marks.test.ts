import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { MarkEntry } from '../../bindings/MarkEntry';
import { arrowPath, drawnMark, ellipseOf, gripAt, lines, movedMark, plateOf } from './marks';

const size = { width: 400, height: 300 };
const crates = join(import.meta.dirname, '../../../../src-tauri/crates');
const arrow: MarkEntry = { shape: 'arrow', tone: 'cold', x: 100, y: 500, to_x: 500, to_y: 500, text: '' };
const circle: MarkEntry = { shape: 'ellipse', tone: 'lamp', x: 400, y: 400, to_x: 600, to_y: 600, text: '' };
const words: MarkEntry = { shape: 'text', tone: 'ink', x: 990, y: 990, to_x: 990, to_y: 990, text: 'chafed' };

describe('what is drawn', () => {
  it('has the measures of the copies', () => {
    const draw = readFileSync(join(crates, 'photo/src/marks/draw.rs'), 'utf8');
    for (const line of [
      'LINE: f32 = 1.0 / 80.0',
      'EM: f32 = 1.0 / 16.0',
      'CASING: f32 = 0.5',
      'BARB: (f32, f32) = (6.0, 0.6)',
      'BARB_ANGLE: f32 = std::f32::consts::FRAC_PI_6',
      'PADDING: (f32, f32) = (0.35, 0.2)',
      'CORNER: f32 = 0.25',
    ]) {
      expect(draw).toContain(`const ${line};`);
    }
    expect(lines(size)).toEqual({ core: 3.75, casing: 7.5 });
  });

  it('has the colors of the copies', () => {
    const rust = readFileSync(join(crates, 'photo/src/marks.rs'), 'utf8');
    const css = readFileSync(join(import.meta.dirname, '../../app.css'), 'utf8');
    const token = (name: string): string =>
      (new RegExp(`--mark-${name}: #(\\w{6});`).exec(css)?.[1]?.match(/../g) ?? [])
        .map((two) => `0x${two}`)
        .join(', ');
    for (const [tone, core, casing] of [
      ['Cold', 'cold', 'white'],
      ['Lamp', 'lamp', 'ink'],
      ['Ink', 'ink', 'white'],
    ]) {
      expect(rust).toContain(`Self::${tone} => ([${token(core ?? '')}], [${token(casing ?? '')}])`);
    }
  });

  it('an arrow ends in two barbs, an ellipse lies in its rectangle', () => {
    expect(arrowPath(arrow, size)).toBe('M40 150L200 150M180.51 161.25L200 150L180.51 138.75');
    expect(ellipseOf(circle, size)).toEqual({ cx: 200, cy: 150, rx: 40, ry: 30 });
  });

  it('a text stays on the picture whole', () => {
    const plate = plateOf(words, 3, size);
    expect(plate.x + plate.width).toBeLessThanOrEqual(400);
    expect(plate.y + plate.height).toBeLessThanOrEqual(300);
    expect(plateOf(words, 40, size).em).toBeLessThan(plate.em);
  });
});

describe('what a finger does', () => {
  it('draws from where it went down to where it went up', () => {
    const drawn = drawnMark('ellipse', 'lamp', { x: 0.6, y: 0.6 }, { x: 0.4, y: 0.4 }, size);
    expect(drawn).toEqual(circle);
    const pointed = drawnMark('arrow', 'cold', { x: 0.1, y: 0.5 }, { x: 0.5, y: 0.5 }, size);
    expect(pointed).toEqual(arrow);
  });

  it('a tap makes a mark of a usual size that points at, or lies around, the place', () => {
    const pointed = drawnMark('arrow', 'cold', { x: 0.9, y: 0.9 }, { x: 0.9, y: 0.9 }, size);
    expect([pointed.to_x, pointed.to_y]).toEqual([900, 900]);
    expect(pointed.x).toBeLessThan(900);
    const text = drawnMark('text', 'ink', { x: 0.2, y: 0.3 }, { x: 0.2, y: 0.3 }, size);
    expect([text.x, text.y, text.to_x, text.to_y]).toEqual([200, 300, 200, 300]);
    const around = drawnMark('ellipse', 'cold', { x: 0, y: 0 }, { x: 0, y: 0 }, size);
    expect(around.x).toBe(0);
    expect(around.to_x).toBeGreaterThan(0);
  });

  it('moves a mark or one end of it, never off the picture', () => {
    expect(movedMark(arrow, 'all', 9999, 0)).toEqual({ ...arrow, x: 600, to_x: 1000 });
    expect(movedMark(arrow, 'end', 9999, -9999)).toEqual({ ...arrow, to_x: 1000, to_y: 0 });
    expect(movedMark(circle, 'end', -9999, 0)).toEqual(circle);
    expect(movedMark(words, 'end', -90, 5)).toEqual({ ...words, x: 900, to_x: 900, y: 995, to_y: 995 });
  });

  it('takes hold of an end, of a body, of nothing', () => {
    expect(gripAt(arrow, { x: 0.5, y: 0.5 }, size, 20)).toBe('end');
    expect(gripAt(arrow, { x: 0.1, y: 0.5 }, size, 20)).toBe('start');
    expect(gripAt(arrow, { x: 0.3, y: 0.52 }, size, 20)).toBe('all');
    expect(gripAt(arrow, { x: 0.3, y: 0.9 }, size, 20)).toBeNull();
    expect(gripAt(circle, { x: 0.5, y: 0.5 }, size, 8)).toBe('all');
    expect(gripAt(words, { x: 0.95, y: 0.95 }, size, 8)).toBe('all');
    expect(gripAt(words, { x: 0.1, y: 0.1 }, size, 8)).toBeNull();
  });
});
