/** Sizes of the log's line in CSS pixels: the way from one notch to the next, and what stands before the first. */
export const NOTCH = { pitch: 28, lead: 14, depth: 11, half: 10, height: 18 };

/** More notches than this don't fit beside the number on a narrow phone. */
const MOST = 9;

/** How many of the kept records are not drawn as notches of their own but stand before them as a number. */
export function folded(kept: number): number {
  return kept > MOST ? kept - MOST : 0;
}

/** The line with so many notches, as path data. */
export function notches(count: number): string {
  const { pitch, lead, depth, half } = NOTCH;
  const cuts = Array.from({ length: count }, (_, place) => {
    const middle = lead + place * pitch + pitch / 2;
    return `H${middle - half}L${middle} ${3 + depth}L${middle + half} 3`;
  });
  return `M0 3${cuts.join('')}H${lead + count * pitch}`;
}
