// Time from a tap to the next paint, with a processor four times slower; printed, never asserted: a desktop's timing
// does not stand in for a phone's.
import { settled } from './look.mjs';
import { toValue } from './reading.mjs';

const SLOWER = 4;
const KEYS = ['1', '2', '.', '4', 'erase', 'erase', 'erase', 'erase'];

/** Taps on the keypad and the answers of a reading; gives the 95th percentile in milliseconds and the number of taps. */
export async function tapToPaint(page, job) {
  const session = await page.context().newCDPSession(page);
  await page.evaluate((hash) => (location.hash = hash), `#/job/${encodeURIComponent(job)}/reading/free`);
  await settled(page);
  await toValue({ page });
  await page.evaluate(watch);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  for (let round = 0; round < 4; round += 1) await tapThrough(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const times = (await page.evaluate(() => window.tapTimes)).sort((a, b) => a - b);
  return { p95: times[Math.ceil(times.length * 0.95) - 1] ?? 0, taps: times.length };
}

/** The browser's own measure of a tap: from the touch to the paint that shows its effect (steps of 8 ms). */
function watch() {
  window.tapTimes = [];
  const longest = new Map();
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) {
      if (!entry.interactionId) continue;
      longest.set(entry.interactionId, Math.max(entry.duration, longest.get(entry.interactionId) ?? 0));
    }
    window.tapTimes = [...longest.values()];
  }).observe({ type: 'event', durationThreshold: 16, buffered: false });
}

async function tapThrough(page) {
  for (const answer of ['yes', 'no', 'unknown', 'yes']) {
    await page.locator(`[data-name=complaint] [data-value=${answer}]`).tap();
  }
  for (const key of KEYS) await page.locator(`[data-key="${key}"]`).tap();
}
