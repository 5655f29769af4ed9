import type { PictureBead } from '../../bindings/PictureBead';
import type { PicturePlate } from '../../bindings/PicturePlate';
import type { PictureSymbol } from '../../bindings/PictureSymbol';
import type { PictureTouch } from '../../bindings/PictureTouch';

/** How far from a point a tap still finds it, in px of the drawing. */
const REACH = 34;

/** SVG path data through corners. */
export function pathOf(corners: [number, number][]): string {
  return `M${corners.map(([x, y]) => `${x} ${y}`).join('L')}`;
}

/** Our own strokes of a symbol, after IEC 60617, round its middle: what is filled first, then bare lines. */
export function strokesOf(symbol: PictureSymbol): { filled: string; bare: string } {
  switch (symbol.sign) {
    case 'fuse':
      return {
        filled: 'M-5 -15h10a4 4 0 0 1 4 4v22a4 4 0 0 1 -4 4h-10a4 4 0 0 1 -4 -4v-22a4 4 0 0 1 4 -4z',
        bare: 'M0 -15v30',
      };
    case 'switch':
    case 'contact':
      return { filled: '', bare: `M0 15L${tipOf(symbol)} -13` };
    case 'lamp':
      return { filled: ROUND, bare: 'M-11 -11l22 22m0 -22l-22 22' };
    case 'motor':
      return { filled: ROUND, bare: 'M-7 6v-12l7 8l7 -8v12' };
    case 'diode':
      return { filled: 'M-11 -10h22l-11 20z', bare: 'M-11 11h22' };
    case 'coil':
      return { filled: 'M-13 -17h26v34h-26z', bare: 'M-13 9l26 -18' };
    case 'thermistor':
      return { filled: 'M-10 -16h20v32h-20z', bare: 'M-16 13h6l20 -26' };
    case 'pick_up':
      return { filled: 'M-11 -16h22v32h-22z', bare: 'M-5 -10q8 3 0 7q8 3 0 7q8 3 0 7' };
    case 'resistor':
      return { filled: 'M-10 -16h20v32h-20z', bare: '' };
  }
}

const ROUND = 'M-16 0A16 16 0 1 1 16 0A16 16 0 1 1 -16 0';

function tipOf(symbol: PictureSymbol): number {
  if (symbol.closed === true) return 0;
  return symbol.mirrored ? -11 : 11;
}

/** A bad reading is torn on both sides. */
export function tornEdge(bead: PictureBead): string {
  const half = bead.width / 2;
  const [left, top] = [bead.x - half, bead.y - 14];
  return `M${left} ${top}h${bead.width}l-5 7 5 7-5 7 5 7h-${bead.width}l5-7-5-7 5-7z`;
}

/** Where a lead's metal tip begins and where its handle does, on the way from the point to the plate. */
export function leadOf(plate: PicturePlate): { tip: string; handle: string } {
  const [[x, y], [toX, toY]] = [plate.tip, plate.end];
  const length = Math.max(1, Math.hypot(toX - x, toY - y));
  const at = (px: number): string => `${x + ((toX - x) / length) * px} ${y + ((toY - y) / length) * px}`;
  return { tip: `M${at(8)}L${at(26)}`, handle: `M${at(26)}L${toX} ${toY}` };
}

/** The points a tap may mean, nearest first: usually one, two where they lie as good as equally near. */
export function tapped(touches: PictureTouch[], x: number, y: number): string[] {
  const near = touches
    .map((touch) => ({ point: touch.point, away: Math.hypot(touch.x - x, touch.y - y) }))
    .filter(({ away }) => away <= REACH)
    .sort((one, other) => one.away - other.away);
  const nearest = near[0];
  if (!nearest) return [];
  const tied = near.filter(({ away }) => away - nearest.away < 4).slice(0, 2);
  return [...new Set(tied.map(({ point }) => point))];
}
