import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { iconNames, iconPath } from './shared/icons';

/** Every screen keeps to the tokens: what they mean stands in DEVELOPERS.md, "The look". */
const here = import.meta.dirname;
const icons = join(here, '../../icons-own/ui');
const css = readFileSync(join(here, 'app.css'), 'utf8');
const screens = readdirSync(here, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.svelte'))
  .map((path) => ({ path: relative('.', path), text: readFileSync(join(here, path), 'utf8') }));
const tokens = new Set([...css.matchAll(/^\s+--([\w-]+):/gm)].map((found) => found[1]));

/** What a screen says that breaks a rule, with its file. */
function breaking(rule: RegExp, except: (path: string, found: string) => boolean = () => false): string[] {
  return screens.flatMap(({ path, text }) =>
    [...text.matchAll(rule)]
      .filter((found) => !except(path, found[0]))
      .map((found) => `${path}: ${found[0]}`),
  );
}

describe('the look', () => {
  it('is asked of known tokens only', () => {
    const used = screens.flatMap(({ path, text }) => {
      const own = new Set([...text.matchAll(/--([\w-]+)[:=]/g)].map((found) => found[1]));
      return [...text.matchAll(/var\(--([\w-]+)/g)]
        .filter((found) => !tokens.has(found[1]) && !own.has(found[1]))
        .map((found) => `${path}: ${found[0]}`);
    });
    expect(screens.length).toBeGreaterThan(100);
    expect(used).toEqual([]);
  });

  it('has no color but its tokens: only codes that are scanned, covered photos and the viewfinder are black and white', () => {
    const plain = /QrPicture|CoverBoard/;
    expect(breaking(/(?<!&)#[\da-f]{3,8}\b/gi, (path) => plain.test(path))).toEqual([]);
  });

  it('has six sizes and two weights', () => {
    const drawing = (path: string): boolean => path.includes('features/bench');
    expect(breaking(/font-size: (?!var\(--size-)[^;]+/g, drawing)).toEqual([]);
    expect(breaking(/font-weight: (?!500|800)[^;]+/g, drawing)).toEqual([]);
    expect([...css.matchAll(/--size-\w+: calc\((\d+)px/g)].map((found) => Number(found[1]))).toEqual([
      15, 17, 20, 26, 40, 64,
    ]);
  });

  it('keeps the leads’ colors for the leads, and never writes in lamp yellow', () => {
    const leads = /(LeadPlate|PointSheet|PictureMarks)\.svelte/;
    const others = breaking(/var\(--lead-(red|black)\)/g).filter((found) => !leads.test(found));
    expect(others).toEqual([]);
    expect(breaking(/(?<![\w-])color: var\(--lamp\)/g)).toEqual([]);
  });

  it('casts no shadow', () => expect(breaking(/box-shadow: (?!none)|drop-shadow/g)).toEqual([]));
});

describe('a sign', () => {
  it('has a file, and every file is a sign', () => {
    const files = readdirSync(icons).map((file) => file.replace(/\.svg$/, ''));
    expect(files.sort()).toEqual([...iconNames].sort());
  });

  it.each(iconNames)('%s is one path on 24 × 24 with a stroke of 2', (name) => {
    const file = readFileSync(join(icons, `${name}.svg`), 'utf8');
    expect(file).toContain('viewBox="0 0 24 24" fill="none" stroke="currentColor" stroke-width="2"');
    expect(file.match(/<path/g)).toHaveLength(1);
    expect(iconPath(name)).toMatch(/^M/);
  });
});
