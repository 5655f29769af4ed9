// The summary as an HTML file, opened as its reader does: from the disk, on phones and desktops, in light and dark.
import { pathToFileURL } from 'node:url';
import { accessibilityFaults } from './accessibility.mjs';

const LOOKS = [
  [360, 'light'],
  [390, 'dark'],
  [1280, 'light'],
];

/** Throws a sentence for whatever is wrong: axe, something from elsewhere, a page wider than its window. */
export async function readsOnAPhone(browser, path) {
  for (const [width, colorScheme] of LOOKS) {
    // The page forbids scripts, axe's too: only for this check they are let in.
    const context = await browser.newContext({
      viewport: { width, height: 844 },
      colorScheme,
      bypassCSP: true,
    });
    const page = await context.newPage();
    const elsewhere = [];
    page.on('request', (request) => {
      if (!/^(file|data):/.test(request.url())) elsewhere.push(request.url());
    });
    await page.goto(pathToFileURL(path).href);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    const broken = await page
      .locator('img')
      .evaluateAll((all) => all.filter((one) => one.naturalWidth === 0).length);
    const faults = [
      ...(await accessibilityFaults(page)),
      ...elsewhere.map((address) => `it asks for ${address}`),
      ...(over > 0 ? [`it is ${over} px too wide`] : []),
      ...(broken > 0 ? [`${broken} pictures are not shown`] : []),
    ];
    await context.close();
    if (faults.length > 0) throw new Error(`${path} at ${width} px, ${colorScheme}: ${faults.join('; ')}`);
  }
}
