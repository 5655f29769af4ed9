/** Points of one line, from finger down to finger up. */
export type Stroke = [number, number][];

/** SVG path data with one decimal place; a single touch becomes a dot. */
export function strokesToPath(strokes: Stroke[]): string {
  return strokes.map(line).join('');
}

function line(stroke: Stroke): string {
  const [first, ...rest] = stroke;
  if (!first) return '';
  const points = rest.length === 0 ? [first] : rest;
  return `M${pair(first)}${points.map((point) => `L${pair(point)}`).join('')}`;
}

function pair([x, y]: [number, number]): string {
  return `${x.toFixed(1)} ${y.toFixed(1)}`;
}

/** A touch is no signature: one stroke at least is this long, in units of the box (600 by 200). */
const LEAST = 40;

/** True when a path holds a stroke long enough to be a signature. */
export function isSignature(path: string): boolean {
  return path.split('M').some((stroke) => length(stroke) >= LEAST);
}

/** Length of one stroke of a path, in its own units. */
function length(stroke: string): number {
  const points = stroke.split('L').map((pair) => pair.split(' ').map(Number));
  return points.slice(1).reduce((sum, [x = 0, y = 0], place) => {
    const [left = 0, top = 0] = points[place] ?? [];
    return sum + Math.hypot(x - left, y - top);
  }, 0);
}
