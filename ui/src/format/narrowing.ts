/** How much a test narrows the causes down, by the bits it is expected to tell: one bit halves what is open. */
export function narrowing(bits: number): 'a_lot' | 'some' | 'little' {
  if (bits >= 1) return 'a_lot';
  return bits >= 0.3 ? 'some' : 'little';
}
