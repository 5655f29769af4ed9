import type { CircuitView } from '../../bindings/CircuitView';
import type { PartView } from '../../bindings/PartView';
import type { PointView } from '../../bindings/PointView';

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

/**
 * A drawing at a given number of pixels a grid unit. Where it can't be drawn (no places, or larger than any screen shows) its
 * points and parts are still there, to be listed.
 */
export type Drawing = {
  width: number;
  height: number;
  drawable: boolean;
  points: DrawnPoint[];
  parts: DrawnPart[];
};

/** The longest side that browsers draw without trouble, in CSS pixels. */
const LONGEST = 16_000;

const MARGIN = 46;
const SIDE_STEP = 34;

/** Lays points and parts out; parts between the same two points lie side by side. */
export function drawn(circuit: CircuitView, unit: number): Drawing {
  const left = Math.min(...circuit.points.map((point) => point.x));
  const top = Math.min(...circuit.points.map((point) => point.y));
  const points = circuit.points.map((point, place) => ({
    point,
    letter: letterOf(place),
    x: (point.x - left) * unit + MARGIN,
    y: (point.y - top) * unit + MARGIN,
  }));
  const width = Math.max(...points.map((point) => point.x)) + MARGIN;
  const height = Math.max(...points.map((point) => point.y)) + MARGIN;
  return {
    width,
    height,
    drawable: [width, height].every((side) => side > 0 && side <= LONGEST),
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
    const steps = before % 2 === 1 ? (before + 1) / 2 : -before / 2;
    // Beside means left of the way from one end to the other: the same side, whichever way a part is written.
    return part.from < part.to ? steps : -steps;
  });
}

type Place = { x: number; y: number };

/** A straight part, or one round a corner where its ends lie neither above nor beside each other. */
function between(part: PartView, number: number, from: DrawnPoint, to: DrawnPoint, steps: number): DrawnPart {
  const straight = Math.abs(from.x - to.x) < 1 || Math.abs(from.y - to.y) < 1;
  const corners = straight ? aside(from, to, steps) : corner(from, to, steps);
  const [start, end] = longest([from, ...corners, to]);
  const degrees = (Math.atan2(end.y - start.y, end.x - start.x) * 180) / Math.PI;
  const path = `M${[from, ...corners, to].map(({ x, y }) => `${x} ${y}`).join('L')}`;
  return { part, number, x: (start.x + end.x) / 2, y: (start.y + end.y) / 2, degrees, path };
}

/** The corners of a part that runs beside the straight line. */
function aside(from: Place, to: Place, steps: number): Place[] {
  if (steps === 0) return [];
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const across = -((to.y - from.y) / length) * steps * SIDE_STEP;
  const down = ((to.x - from.x) / length) * steps * SIDE_STEP;
  return [
    { x: from.x + across, y: from.y + down },
    { x: to.x + across, y: to.y + down },
  ];
}

/** One corner; parts with the same ends turn at different ones. */
function corner(from: Place, to: Place, steps: number): Place[] {
  return steps % 2 === 0 ? [{ x: to.x, y: from.y }] : [{ x: from.x, y: to.y }];
}

/** The longest stretch of a line: there is room for the symbol. */
function longest(line: Place[]): [Place, Place] {
  const stretches = line.slice(1).map((end, place): [Place, Place] => [line[place] ?? end, end]);
  const length = ([a, b]: [Place, Place]): number => Math.hypot(b.x - a.x, b.y - a.y);
  return stretches.reduce((best, one) => (length(one) > length(best) ? one : best));
}
