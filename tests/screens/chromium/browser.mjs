// Chromium at phone size, with the app's shell laid onto the bridge.
import { chromium } from './libraries.mjs';
import { shellInPage } from './shell.mjs';

export const PHONE = { width: 390, height: 844 };
const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
];

/** A browser, started with more arguments. */
export function launch(more) {
  return chromium.launch({ executablePath: '/usr/bin/chromium', args: [...ARGUMENTS, ...more] });
}

/** An empty page of a browser; what goes wrong in it is told to `onfault`. */
export async function emptyPage(browser, onfault) {
  const context = await browser.newContext({
    viewport: PHONE,
    hasTouch: true,
    reducedMotion: 'reduce',
    colorScheme: 'light',
  });
  await context.addInitScript(shellInPage);
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  page.on('pageerror', (error) => onfault(`the page threw ${error.message}`));
  page.on('console', (line) => {
    // The check stops its own bridge, and a photo may still be asked about then; the shipped window has no network in
    // between. A bridge that ends by itself fails the step that waits for it.
    const expected = ['422', 'net::ERR_CONNECTION_'].some((part) => line.text().includes(part));
    if (line.type() === 'error' && !expected) onfault(`console: ${line.text()} (${line.location().url})`);
  });
  return page;
}
