import type { MarkEntry } from '../../bindings/MarkEntry';
import type { MarkShape } from '../../bindings/MarkShape';
import type { MarkTone } from '../../bindings/MarkTone';
import type { Size, Spot } from './zoom';

/** Places of marks are thousandths of the picture. */
export const WHOLE = 1000;
/** The geometry of the copies (`crates/photo/src/marks/draw.rs`), so that what is seen is what is drawn. */
const LINE = 1 / 80;
const EM = 1 / 16;
const CASING = 0.5;
const BARB: [number, number] = [6, 0.6];
const BARB_ANGLE = Math.PI / 6;
const PADDING: [number, number] = [0.35, 0.2];
const CORNER = 0.25;

/** Width of a line and of its casing, for a picture shown at that size. */
export function lines(size: Size): { core: number; casing: number } {
  const core = Math.max(1, Math.min(size.width, size.height) * LINE);
  return { core, casing: core * (1 + 2 * CASING) };
}

function at(x: number, y: number, { width, height }: Size): Spot {
  return { x: (x * width) / WHOLE, y: (y * height) / WHOLE };
}

/** Shaft and barbs of an arrow as a path. */
export function arrowPath(mark: MarkEntry, size: Size): string {
  const from = at(mark.x, mark.y, size);
  const tip = at(mark.to_x, mark.to_y, size);
  const length = Math.hypot(tip.x - from.x, tip.y - from.y);
  const barb = Math.min(lines(size).core * BARB[0], length * BARB[1]);
  const back = Math.atan2(tip.y - from.y, tip.x - from.x) + Math.PI;
  const end = (angle: number): string =>
    `${round(tip.x + barb * Math.cos(angle))} ${round(tip.y + barb * Math.sin(angle))}`;
  const point = `${round(tip.x)} ${round(tip.y)}`;
  return `M${round(from.x)} ${round(from.y)}L${point}M${end(back - BARB_ANGLE)}L${point}L${end(back + BARB_ANGLE)}`;
}

/** An ellipse's middle and radii. */
export function ellipseOf(mark: MarkEntry, size: Size): { cx: number; cy: number; rx: number; ry: number } {
  const corner = at(mark.x, mark.y, size);
  const other = at(mark.to_x, mark.to_y, size);
  return {
    cx: (corner.x + other.x) / 2,
    cy: (corner.y + other.y) / 2,
    rx: (other.x - corner.x) / 2,
    ry: (other.y - corner.y) / 2,
  };
}

export type Plate = Spot & Size & { em: number; corner: number; baseline: Spot; edge: number };

/** A text's plate, as large as its letters need, and where these stand; `ems` is the text's width in ems. */
export function plateOf(mark: MarkEntry, ems: number, size: Size): Plate {
  const edge = lines(size).core * CASING;
  const whole = ems + 2 * PADDING[0];
  const em = Math.max(1, Math.min(Math.min(size.width, size.height) * EM, (size.width - 2 * edge) / whole));
  const [width, height] = [em * whole, em * (1 + 2 * PADDING[1])];
  const corner = at(mark.x, mark.y, size);
  const within = (start: number, length: number, side: number): number =>
    Math.max(Math.min(start, side - length - edge), edge);
  const x = within(corner.x, width, size.width);
  const y = within(corner.y, height, size.height);
  return {
    x,
    y,
    width,
    height,
    em,
    corner: em * CORNER,
    edge: edge * 2,
    baseline: { x: x + em * PADDING[0], y: y + height / 2 },
  };
}

/** A mark that a finger drew from one place to another; a tap makes one of a usual size. */
export function drawnMark(shape: MarkShape, tone: MarkTone, from: Spot, to: Spot, size: Size): MarkEntry {
  const tapped = Math.hypot((to.x - from.x) * size.width, (to.y - from.y) * size.height) < 12;
  const spots = tapped ? usual(shape, to, size) : { from, to };
  return inside(asEntry(shape, tone, spots.from, spots.to));
}

function usual(shape: MarkShape, spot: Spot, size: Size): { from: Spot; to: Spot } {
  if (shape === 'text') return { from: spot, to: spot };
  const side = Math.min(size.width, size.height) * 0.18;
  const [across, along] = [side / size.width, side / size.height];
  if (shape === 'arrow') {
    // From the side where there is room.
    const from = {
      x: spot.x + (spot.x < 0.5 ? across : -across),
      y: spot.y + (spot.y < 0.5 ? along : -along),
    };
    return { from, to: spot };
  }
  return {
    from: { x: spot.x - across / 2, y: spot.y - along / 2 },
    to: { x: spot.x + across / 2, y: spot.y + along / 2 },
  };
}

function asEntry(shape: MarkShape, tone: MarkTone, from: Spot, to: Spot): MarkEntry {
  const share = (part: number): number => Math.round(Math.min(1, Math.max(0, part)) * WHOLE);
  const [x, y, to_x, to_y] = [share(from.x), share(from.y), share(to.x), share(to.y)];
  if (shape === 'text') return { shape, tone, x: to_x, y: to_y, to_x, to_y, text: '' };
  if (shape === 'arrow') return { shape, tone, x, y, to_x, to_y, text: '' };
  const [left, right] = [Math.min(x, to_x), Math.max(x, to_x)];
  const [top, bottom] = [Math.min(y, to_y), Math.max(y, to_y)];
  return { shape, tone, x: left, y: top, to_x: right, to_y: bottom, text: '' };
}

/** The same with an extent that can be seen, on the picture. */
function inside(mark: MarkEntry): MarkEntry {
  if (mark.shape === 'text') return mark;
  const wider = (start: number, end: number): [number, number] =>
    end - start >= 4
      ? [start, end]
      : [Math.max(0, Math.min(start, WHOLE - 4)), Math.max(0, Math.min(start, WHOLE - 4)) + 4];
  if (mark.shape === 'ellipse') {
    const [x, to_x] = wider(mark.x, mark.to_x);
    const [y, to_y] = wider(mark.y, mark.to_y);
    return { ...mark, x, to_x, y, to_y };
  }
  return mark.x === mark.to_x && mark.y === mark.to_y ? { ...mark, x: Math.abs(mark.x - 20) } : mark;
}

/** Which part of a mark is held: all of it, its beginning or its end. */
export type Grip = 'all' | 'start' | 'end';

/** The mark moved, or one end of it, by thousandths; it stays on the picture. */
export function movedMark(mark: MarkEntry, grip: Grip, across: number, along: number): MarkEntry {
  const clamp = (by: number, ...places: number[]): number =>
    Math.round(Math.min(WHOLE - Math.max(...places), Math.max(-Math.min(...places), by)));
  if (mark.shape === 'text' || grip === 'all') {
    const [dx, dy] = [clamp(across, mark.x, mark.to_x), clamp(along, mark.y, mark.to_y)];
    return { ...mark, x: mark.x + dx, y: mark.y + dy, to_x: mark.to_x + dx, to_y: mark.to_y + dy };
  }
  const next =
    grip === 'start'
      ? { ...mark, x: mark.x + clamp(across, mark.x), y: mark.y + clamp(along, mark.y) }
      : { ...mark, to_x: mark.to_x + clamp(across, mark.to_x), to_y: mark.to_y + clamp(along, mark.to_y) };
  return isSeen(next) ? next : mark;
}

function isSeen(mark: MarkEntry): boolean {
  if (mark.shape === 'ellipse') return mark.to_x - mark.x >= 4 && mark.to_y - mark.y >= 4;
  return mark.x !== mark.to_x || mark.y !== mark.to_y;
}

/** What a finger holds of a mark at a place (shares of the picture), `near` in pixels of the picture as shown. */
export function gripAt(mark: MarkEntry, spot: Spot, size: Size, near: number): Grip | null {
  const finger = { x: spot.x * size.width, y: spot.y * size.height };
  const start = at(mark.x, mark.y, size);
  const end = at(mark.to_x, mark.to_y, size);
  const from = (place: Spot): number => Math.hypot(place.x - finger.x, place.y - finger.y);
  if (mark.shape === 'text') {
    const plate = plateOf(mark, mark.text.length * 0.6, size);
    const beside = (place: number, begin: number, length: number): number =>
      Math.max(begin - place, 0, place - begin - length);
    const apart = Math.hypot(beside(finger.x, plate.x, plate.width), beside(finger.y, plate.y, plate.height));
    return apart <= near ? 'all' : null;
  }
  if (from(end) <= near && from(end) <= from(start)) return 'end';
  if (from(start) <= near) return 'start';
  if (mark.shape === 'ellipse') {
    const within =
      finger.x >= start.x - near &&
      finger.x <= end.x + near &&
      finger.y >= start.y - near &&
      finger.y <= end.y + near;
    return within ? 'all' : null;
  }
  const length = Math.hypot(end.x - start.x, end.y - start.y);
  const along =
    ((finger.x - start.x) * (end.x - start.x) + (finger.y - start.y) * (end.y - start.y)) / length ** 2;
  const foot = { x: start.x + along * (end.x - start.x), y: start.y + along * (end.y - start.y) };
  return along > 0 && along < 1 && from(foot) <= near ? 'all' : null;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
