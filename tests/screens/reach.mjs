// Can everybody read the screen and hit what is on it?
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const require = createRequire(join(root, 'ui/package.json'));
const { AxeBuilder } = require('@axe-core/playwright');

/** Gloved and with a meter in the other hand: the smallest side of anything to be touched, in CSS pixels. */
const SMALLEST = 48;

/** WCAG 2.2 A and AA, and of AAA the contrast of text (7:1): a screen is read in sunlight. Axe's own list leaves 2.2 out. */
export async function assertReadable(page) {
  const tagged = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  const contrast = await new AxeBuilder({ page }).withRules(['color-contrast-enhanced']).analyze();
  const found = [...tagged.violations, ...contrast.violations].map(
    (violation) => `${violation.id}: ${violation.nodes.map((node) => node.target.join(' ')).join(', ')}`,
  );
  assert.deepEqual(found, []);
}

/** Everything that can be touched and is shown is large enough; a field may be touched on its label. */
export async function assertTouchable(page) {
  const small = await page.evaluate((smallest) => {
    const shown = (element) => element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
    const touched = [
      ...document.querySelectorAll('button, a[href], input, select, textarea, summary, [role="button"]'),
    ];
    const boxes = touched.filter(shown).map((element) => {
      const label = element.labels?.[0];
      const isCovered =
        label?.contains(element) &&
        label.getBoundingClientRect().width > element.getBoundingClientRect().width;
      const box = (isCovered ? label : element).getBoundingClientRect();
      return {
        what: element.outerHTML.slice(0, 90),
        width: Math.round(box.width),
        height: Math.round(box.height),
      };
    });
    return boxes.filter((box) => box.width > 0 && (box.width < smallest || box.height < smallest));
  }, SMALLEST);
  assert.deepEqual(small, []);
}
