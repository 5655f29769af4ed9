/** Symbols after IEC 60617, drawn on a line along x, 28 px long, centred on 0; our own strokes. */
const symbols: Record<string, string> = {
  battery: 'M-3 -11V11M3 -6V6',
  fuse: 'M-12 -5H12V5H-12ZM-14 0H14',
  wire: '',
  connection: 'M-4 0A4 4 0 1 1 4 0A4 4 0 1 1 -4 0',
  switch: 'M-13 0H-8L9 -8M8 0H13',
  relay_coil: 'M-11 -7H11V7H-11ZM-11 7L11 -7',
  relay_contact: 'M-13 0H-8L9 -8M8 0H13M0 -4V-10',
  driver: 'M-12 -9H12V9H-12ZM-6 0L3 -5V5Z',
  diode: 'M-6 -7L6 0L-6 7ZM6 -7V7',
  lamp: 'M-10 0A10 10 0 1 1 10 0A10 10 0 1 1 -10 0M-7 -7L7 7M7 -7L-7 7',
  motor: 'M-11 0A11 11 0 1 1 11 0A11 11 0 1 1 -11 0M-5 5V-5L0 2L5 -5V5',
  resistor: 'M-12 -5H12V5H-12Z',
  pick_up: 'M-12 0A4 4 0 0 1 -4 0A4 4 0 0 1 4 0A4 4 0 0 1 12 0M-12 8H12',
  module: 'M-14 -10H14V10H-14Z',
  ground: 'M0 -10V10M4 -6V6M8 -3V3',
};

/** Path data for a kind of part; a plain box for a kind that has no symbol of its own. */
export function symbol(kind: string): string {
  return symbols[kind] ?? 'M-12 -7H12V7H-12Z';
}
