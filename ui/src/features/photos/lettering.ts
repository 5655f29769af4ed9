let pen: CanvasRenderingContext2D | null | undefined;

/** Width of a text in ems, in the letters that marks are shown in. */
export function emsOf(text: string): number {
  if (pen === undefined) pen = typeof OffscreenCanvas === 'undefined' ? null : contextOf();
  if (!pen) return text.length * 0.58;
  pen.font = `800 100px ${getComputedStyle(document.documentElement).fontFamily}`;
  return pen.measureText(text).width / 100;
}

function contextOf(): CanvasRenderingContext2D | null {
  return document.createElement('canvas').getContext('2d');
}
