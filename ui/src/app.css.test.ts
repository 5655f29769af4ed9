import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/** WCAG 2.2, 1.4.6: text on its ground at 7:1. Luminance after the definition in WCAG 2.2. */
const css = readFileSync(join(import.meta.dirname, 'app.css'), 'utf8');

function tokens(selector: string): Record<string, string> {
  const body = css.slice(css.indexOf(selector)).split('}')[0] ?? '';
  return Object.fromEntries(
    [...body.matchAll(/--([\w-]+): (#\w{6});/g)].map((found) => [found[1], found[2]]),
  );
}

function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((place) => {
    const share = parseInt(colour.slice(place, place + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(a: string, b: string): number {
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
}

const texts: [string, string[]][] = [
  ['ink', ['paper', 'sheet']],
  ['ink2', ['paper', 'sheet']],
  ['copper', ['paper', 'sheet']],
  ['cold', ['paper', 'sheet']],
  ['on-copper', ['copper']],
  ['on-lamp', ['lamp']],
  ['on-cold', ['cold']],
  ['on-lead', ['lead-red', 'lead-black']],
  ['paper', ['ink']],
];

describe.each([
  ['light', tokens(':root {')],
  ['dark', tokens(":root[data-theme='dark']")],
])('%s theme', (_name, colours) => {
  it('computes contrast as WCAG does: black on white is 21, #777777 on white 4.48', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });

  it.each(texts)('shows %s at 7:1 on every ground it stands on', (text, grounds) => {
    for (const ground of grounds) {
      expect(contrast(colours[text] ?? '', colours[ground] ?? ''), `${text} on ${ground}`).toBeGreaterThan(7);
    }
  });

  it('draws borders and marks at 3:1 (WCAG 1.4.11)', () => {
    for (const mark of ['rule', 'dim', 'copper', 'cold', 'ink']) {
      for (const ground of ['paper', 'sheet']) {
        expect(contrast(colours[mark] ?? '', colours[ground] ?? ''), `${mark} on ${ground}`).toBeGreaterThan(
          3,
        );
      }
    }
  });
});
