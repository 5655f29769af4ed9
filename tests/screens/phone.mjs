// A phone-sized Chromium on the shipped pages, with the real backend behind them: the program `bridge` runs the app's
// own commands, and the shell's entry point in the page is led to it. Nothing of the user interface is replaced.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { mkdtemp, mkdir, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const target = resolve(root, process.env.CARGO_TARGET_DIR ?? 'target');
// The browser's driver is installed with the user interface's packages.
const require = createRequire(join(root, 'ui/package.json'));
const { chromium } = require('playwright-core');

const SIZE = { width: 390, height: 844 };

/**
 * Runs `use(page, phone)` on a new phone with an empty shop and puts both away, also when it fails. A script error, a
 * refused request or a breach of the content security policy fails the test by itself.
 */
export async function withPhone(use, { theme = 'light', language = 'en', data = null } = {}) {
  const folder = data ?? (await mkdtemp(join(tmpdir(), 'testimeter-')));
  const bridge = await startBridge(folder);
  const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: QUIET });
  try {
    const page = await open(browser, theme, language);
    const complaints = listen(page);
    await page.goto(bridge.address);
    await use(page, { folder });
    assert.deepEqual(complaints, []);
  } finally {
    await browser.close();
    await bridge.stop();
    if (data === null) await rm(folder, { recursive: true, force: true });
  }
}

/** Keeps a picture of the screen for people to look at, in cargo's folder for the files of tests. */
export async function keepPicture(page, name) {
  const folder = join(target, 'tmp');
  await mkdir(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}

async function open(browser, theme, language) {
  const context = await browser.newContext({
    viewport: SIZE,
    deviceScaleFactor: 2,
    hasTouch: true,
    isMobile: true,
    colorScheme: theme,
    locale: language,
    reducedMotion: 'reduce',
  });
  await context.addInitScript(leadShellToBridge);
  return context.newPage();
}

/** Starts the bridge and waits until it says where it listens. */
async function startBridge(folder) {
  const program = join(target, 'debug/bridge');
  const child = spawn(program, {
    env: { ...process.env, TESTIMETER_DATA: folder },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise((done) => child.once('exit', done));
  const address = await new Promise((done, fail) => {
    child.once('error', () =>
      fail(new Error(`${program} is missing: type \`cargo xtask test --only build\``)),
    );
    child.once('exit', (code) => fail(new Error(`the bridge ended with ${code}; its own words are above`)));
    createInterface({ input: child.stdout }).once('line', done);
  });
  return { address, stop: () => (child.kill(), ended) };
}

function listen(page) {
  const complaints = [];
  page.on('pageerror', (error) => complaints.push(`script: ${error.message}`));
  page.on('console', (message) => {
    // A refused command answers 422: that is an answer, and the page shows it.
    if (message.type() === 'error' && !message.text().includes('422'))
      complaints.push(`console: ${message.text()}`);
  });
  return complaints;
}

/** Runs in the page before its own scripts: what Tauri puts there, answered over HTTP. */
function leadShellToBridge() {
  let next = 0;
  const isBytes = (value) => value instanceof Uint8Array || value instanceof ArrayBuffer;
  window.__TAURI_INTERNALS__ = {
    metadata: { currentWindow: { label: 'main' }, currentWebview: { windowLabel: 'main', label: 'main' } },
    transformCallback: () => (next += 1),
    unregisterCallback: () => {},
    convertFileSrc: (path, scheme) => `/${scheme}/${encodeURIComponent(path)}`,
    invoke: async (command, values = {}, options = {}) => {
      const raw = isBytes(values);
      const answer = await fetch(`/invoke/${command}`, {
        method: 'POST',
        body: raw ? values : JSON.stringify(values),
        headers: {
          'content-type': raw ? 'application/octet-stream' : 'application/json',
          ...options.headers,
        },
      });
      const isJson = answer.headers.get('content-type')?.startsWith('application/json');
      const value = isJson ? await answer.json() : await answer.arrayBuffer();
      if (!answer.ok) throw value;
      return value;
    },
  };
}

/** Chromium as root, without a graphics card, asking nobody anything. */
const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
