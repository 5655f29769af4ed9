import type { AreaEntry } from '../../bindings/AreaEntry';

/** A place on a picture, in thousandths of its width and height. */
export type Point = { x: number; y: number };

const WHOLE = 1000;
/** Smaller than this nobody draws on purpose: it is a touch. */
const SMALLEST = 12;

/** Where a finger is on a picture that is shown in a box; a finger beyond the edge counts as on the edge. */
export function pointIn(
  box: { left: number; top: number; width: number; height: number },
  x: number,
  y: number,
): Point {
  return { x: thousandths(x - box.left, box.width), y: thousandths(y - box.top, box.height) };
}

/** The rectangle between two opposite corners. */
export function between(one: Point, other: Point): AreaEntry {
  const left = Math.min(one.x, other.x);
  const top = Math.min(one.y, other.y);
  return { left, top, width: Math.abs(one.x - other.x), height: Math.abs(one.y - other.y) };
}

/** Was it drawn, or only touched? */
export function isDrawn(area: AreaEntry): boolean {
  return area.width >= SMALLEST && area.height >= SMALLEST;
}

function thousandths(distance: number, size: number): number {
  return Math.min(WHOLE, Math.max(0, Math.round((distance / size) * WHOLE)));
}
