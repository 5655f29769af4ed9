import type { CircuitView } from './bindings/CircuitView';
import type { PartView } from './bindings/PartView';
import type { PointView } from './bindings/PointView';

/** A point of the circuit in CSS pixels, with the letter it carries in drawing and list. */
export type DrawnPoint = { point: PointView; letter: string; x: number; y: number };

/** A part as drawn: the middle of its symbol, its direction, its two ends, its number. */
export type DrawnPart = {
  part: PartView;
  number: number;
  x: number;
  y: number;
  degrees: number;
  path: string;
};

/** A drawing at a given number of pixels a grid unit. */
export type Drawing = { width: number; height: number; points: DrawnPoint[]; parts: DrawnPart[] };

const MARGIN = 46;
const SIDE_STEP = 34;

/** Lays points and parts out; parts between the same two points lie side by side. */
export function drawn(circuit: CircuitView, unit: number): Drawing {
  const left = Math.min(0, ...circuit.points.map((point) => point.x));
  const top = Math.min(0, ...circuit.points.map((point) => point.y));
  const points = circuit.points.map((point, place) => ({
    point,
    letter: letterOf(place),
    x: (point.x - left) * unit + MARGIN,
    y: (point.y - top) * unit + MARGIN,
  }));
  return {
    width: Math.max(...points.map((point) => point.x)) + MARGIN,
    height: Math.max(...points.map((point) => point.y)) + MARGIN,
    points,
    parts: drawnParts(circuit.parts, points),
  };
}

/** A, B, … Z, AA, AB, … */
export function letterOf(place: number): string {
  const last = String.fromCharCode(65 + (place % 26));
  return place < 26 ? last : letterOf(Math.floor(place / 26) - 1) + last;
}

function drawnParts(parts: PartView[], points: DrawnPoint[]): DrawnPart[] {
  const places = new Map(points.map((point) => [point.point.id, point]));
  const beside = sides(parts);
  return parts.flatMap((part, place) => {
    const from = places.get(part.from);
    const to = places.get(part.to);
    return from && to ? [between(part, place + 1, from, to, beside[place] ?? 0)] : [];
  });
}

/** How many steps each part lies beside the straight line: 0, 1, −1, 2, … among those with the same ends. */
function sides(parts: PartView[]): number[] {
  const seen = new Map<string, number>();
  return parts.map((part) => {
    const ends = [part.from, part.to].sort().join(' ');
    const before = seen.get(ends) ?? 0;
    seen.set(ends, before + 1);
    return before % 2 === 1 ? (before + 1) / 2 : -before / 2;
  });
}

function between(part: PartView, number: number, from: DrawnPoint, to: DrawnPoint, steps: number): DrawnPart {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const aside = steps * SIDE_STEP;
  const x = (from.x + to.x) / 2 - ((to.y - from.y) / length) * aside;
  const y = (from.y + to.y) / 2 + ((to.x - from.x) / length) * aside;
  const degrees = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
  const path =
    steps === 0 ? `M${from.x} ${from.y}L${to.x} ${to.y}` : `M${from.x} ${from.y}L${x} ${y}L${to.x} ${to.y}`;
  return { part, number, x, y, degrees, path };
}
