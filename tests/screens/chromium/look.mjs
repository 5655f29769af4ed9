// One look at one screen: targets, axe, picture.
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { accessibilityFaults } from './accessibility.mjs';
import { targetFaults } from './targets.mjs';

/** Collects what is wrong with every screen that is looked at. */
export class Looks {
  faults = [];
  screens = 0;
  targets = 0;

  constructor(folder) {
    this.folder = folder;
  }

  /** Looks at the screen as it stands now. */
  async at(page, name) {
    await settled(page);
    const { count, faults } = await targetFaults(page);
    const all = [...faults, ...(await accessibilityFaults(page)), ...(await missingWords(page))];
    this.faults.push(...all.map((fault) => `${name}: ${fault}`));
    this.screens += 1;
    this.targets += count;
    await mkdir(this.folder, { recursive: true });
    await page.screenshot({ path: join(this.folder, `${name}.png`) });
  }

  /** The whole length of a screen, for people. */
  async whole(page, name) {
    await settled(page);
    await page.screenshot({
      path: join(this.folder, `${name}-whole.png`),
      fullPage: true,
    });
  }
}

/** Waits until nothing on the screen says that it is still being loaded or kept. */
export async function settled(page) {
  await page.waitForFunction(() => document.querySelector('[aria-busy=true]') === null);
  await page.waitForFunction(() => document.querySelector('h1') !== null);
  await page.waitForTimeout(60);
}

/** A bare code or an unfilled place shows that words are missing. */
async function missingWords(page) {
  const text = await page.evaluate(() => document.querySelector('#app').innerText);
  return [...text.matchAll(/\{\s*\$?\w+\s*\}/g)].map((found) => `the place ${found[0]} is not filled`);
}
