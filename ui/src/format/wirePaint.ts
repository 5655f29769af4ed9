/** Paint for the colour codes of IEC 60757; the code itself is always printed beside it. */
const paints: Record<string, string> = {
  BK: '#1a1a1a',
  BN: '#6d4122',
  RD: '#c8201f',
  OG: '#ef7d16',
  YE: '#f4d21f',
  GN: '#1f8a3b',
  BU: '#1f5fbf',
  VT: '#7a3fa0',
  GY: '#8b8f94',
  WH: '#ffffff',
  PK: '#f09bb5',
  GD: '#c39a32',
  TQ: '#2bb8b0',
  SR: '#c9ced3',
};

/** Paints of a wire: base, then stripe; nothing for a code that isn't one. */
export function wirePaints(code: string): string[] {
  const letters = code.toUpperCase().replace(/[^A-Z]/g, '');
  return (letters.match(/../g) ?? []).map((pair) => paints[pair]).filter((paint) => paint !== undefined);
}
