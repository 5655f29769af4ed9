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
