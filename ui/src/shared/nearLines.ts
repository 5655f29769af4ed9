/** Lines that come and go together: few enough to be drawn at once, enough that a long list has few pieces. */
export const PIECE = 20;

/** The lines in pieces, the last one shorter. */
export function piecesOf<T>(lines: T[]): T[][] {
  return Array.from({ length: Math.ceil(lines.length / PIECE) }, (_, piece) =>
    lines.slice(piece * PIECE, (piece + 1) * PIECE),
  );
}

/**
 * The first and the last piece that come within `margin` of what is seen of a list, all in CSS pixels from its upper end.
 * Always one piece at least, so that there is something to measure.
 */
export function nearPieces(
  heights: number[],
  from: number,
  to: number,
  margin: number,
): { first: number; last: number } {
  let first = -1;
  let last = 0;
  let top = 0;
  for (const [piece, height] of heights.entries()) {
    const isNear = top + height >= from - margin && top <= to + margin;
    if (isNear && first < 0) first = piece;
    if (isNear) last = piece;
    top += height;
  }
  // All of it lies above what is seen: its end is the nearest.
  if (first < 0) first = last = from > 0 ? Math.max(heights.length - 1, 0) : 0;
  return { first, last };
}
