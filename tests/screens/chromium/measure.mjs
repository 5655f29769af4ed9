// node measure.mjs --bridge PROGRAM --data FOLDER : what use of the screens costs in Chromium at phone size, on a data folder with
// many jobs; prints one JSON object. Nothing is asserted: a desktop's browser does not stand in for a phone's.
import { readFile, readdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { gzipSync } from 'node:zlib';
import { startBridge } from './bridge.mjs';
import { emptyPage, launch } from './browser.mjs';
import { aJob, countTaps, take } from './camera.mjs';
import { Looks, settled } from './look.mjs';
import { Player } from './player.mjs';
import { toValue } from './reading.mjs';
import { tapToPaint } from './taps.mjs';

const { values } = parseArgs({ options: { bridge: { type: 'string' }, data: { type: 'string' } } });
/** A phone's processor beside this one. */
const SLOWER = 4;
const STARTS = 5;
/** Readings in the job at the end, and how many around each place give its median. */
const READINGS = 200;
const FEW = 10;
const AROUND = 9;

const bridge = await startBridge(resolve(values.bridge), resolve(values.data));
const browser = await launch(['--enable-precise-memory-info', '--js-flags=--expose-gc']);
try {
  const figures = { start_usable_ms: await startUsable(), bundle_gzip_kb: await bundle() };
  const page = await opened();
  const player = new Player(page, '.', { steps: [] }, new Looks('.'));
  player.once = async () => {};
  const tests = await aJob(player);
  await page.evaluate(countTaps);
  const paint = await tapToPaint(page, player.job);
  Object.assign(figures, {
    tap_to_paint_p95_ms: paint.p95,
    taps_per_reading: await tapsOf(player, tests[0]),
  });
  Object.assign(figures, await manyReadings(player, tests));
  console.log(JSON.stringify(figures));
} finally {
  await browser.close();
  bridge.stop();
}

async function opened() {
  const page = await emptyPage(browser, (fault) => console.error(fault));
  await page.goto(bridge.address);
  await page.locator('[data-name=take-in]').waitFor();
  return page;
}

/** Median milliseconds from asking for the page until a job of the list can be tapped, at a quarter of the speed. */
async function startUsable() {
  const times = [];
  for (let start = 0; start < STARTS; start += 1) {
    const page = await emptyPage(browser, (fault) => console.error(fault));
    await page.addInitScript(() => {
      const watch = new MutationObserver(() => {
        if (!document.querySelector('[data-name=job]') || window.usableAt) return;
        watch.disconnect();
        requestAnimationFrame(() => setTimeout(() => (window.usableAt = performance.now())));
      });
      watch.observe(document, { childList: true, subtree: true });
    });
    const session = await page.context().newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
    await page.goto(bridge.address);
    await page.waitForFunction(() => window.usableAt > 0);
    times.push(await page.evaluate(() => window.usableAt));
    await page.context().close();
  }
  return median(times);
}

/** Page, scripts, styles and one language that a start loads, packed as they would be sent, kilobytes; the font isn't in it. */
async function bundle() {
  const folder = resolve(import.meta.dirname, '../../../ui/dist');
  const loaded = (name) => !name.startsWith('es-') && /\.(js|css)$/.test(name);
  const assets = (await readdir(join(folder, 'assets')))
    .filter(loaded)
    .map((name) => join(folder, 'assets', name));
  const sizes = await Promise.all(
    [join(folder, 'index.html'), ...assets].map(async (file) => gzipSync(await readFile(file)).length),
  );
  return sizes.reduce((sum, size) => sum + size, 0) / 1e3;
}

/** Taps from the test on offer to the record, without a photo, digits aside. */
async function tapsOf(player, test) {
  await take(player, test);
  await enter(player, '0.31');
  return player.page.evaluate(() => window.taps);
}

/** Keeps readings until there are many; from the tap on Keep to the paint that says so, and what the page holds in memory. */
async function manyReadings(player, tests) {
  const { page } = player;
  const session = await page.context().newCDPSession(page);
  const [times, heap] = [[], []];
  for (let reading = 1; reading <= READINGS; reading += 1) {
    await page.evaluate(
      (hash) => (location.hash = hash),
      `#/job/${encodeURIComponent(player.job)}/reading/${tests[reading % tests.length]}`,
    );
    await settled(page);
    times.push(await enter(player, (12 + (reading % 50) / 100).toFixed(2)));
    if (reading === FEW || reading === READINGS) {
      await session.send('HeapProfiler.collectGarbage');
      heap.push(await page.evaluate(() => performance.memory.usedJSHeapSize));
    }
    await page.evaluate((hash) => (location.hash = hash), `#/job/${encodeURIComponent(player.job)}`);
    await settled(page);
  }
  const at = (place) => median(times.slice(Math.max(0, place - AROUND), place));
  return {
    keep_reading_ms_at_10: at(FEW),
    keep_reading_ms_at_200: at(READINGS),
    keep_reading_ms_at_200_over_at_10: at(READINGS) / at(FEW),
    heap_growth_mb_200_readings: (heap[1] - heap[0]) / 1e6,
  };
}

/** Types a value and keeps it; gives the milliseconds from the tap on Keep to the paint after it. */
async function enter(player, value) {
  const { page } = player;
  await toValue(player);
  for (const key of value) await page.locator(`[data-key="${key}"]`).click();
  await player.pick('complaint', 'yes');
  await page.evaluate(() => {
    window.keptAfter = 0;
    const began = () => {
      const start = performance.now();
      const watch = new MutationObserver(() => {
        if (!document.querySelector('[data-name=reading-kept]')) return;
        watch.disconnect();
        requestAnimationFrame(() => setTimeout(() => (window.keptAfter = performance.now() - start)));
      });
      watch.observe(document.body, { childList: true, subtree: true });
    };
    document
      .querySelector('[data-name=keep-reading]')
      .addEventListener('click', began, { once: true, capture: true });
  });
  await player.press('keep-reading');
  await page.waitForFunction(() => window.keptAfter > 0);
  return page.evaluate(() => window.keptAfter);
}

function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
