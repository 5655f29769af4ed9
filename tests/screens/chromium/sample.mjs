// The finished job that the app carries: stopped while it is made, looked at, worked in, and left; the own shop knows nothing of it.
import { settled } from './look.mjs';

/** From the empty list of jobs, and back to it. */
export async function sampleJob(page, looks) {
  await stopped(page);
  const begun = Date.now();
  await page.locator('[data-name=sample]').click();
  await page.locator('[data-name=sample-band]').waitFor({ timeout: 120_000 });
  await settled(page);
  console.log(`from the tap to the finished job: ${Date.now() - begun} ms`);
  await page.locator('[data-stage=handed_over]').waitFor();
  await looks.at(page, 'sample-job');
  const job = decodeURIComponent(page.url().split('#/job/')[1]);
  const view = await invoke(page, 'job_view', { job });
  if (view.reports.length !== 1) throw new Error(`the sample has ${view.reports.length} reports`);
  await goTo(page, '#/');
  await looks.at(page, 'sample-jobs');
  await page.locator('[data-name=take-in]').click();
  await page.locator('[name=complaint]').fill('Only tried out.');
  await settled(page);
  // A reload stays in it; the own shop is one tap away on every screen.
  await page.reload();
  await page.locator('[data-name=leave-sample]').click();
  await page.locator('[data-name=sample-band]').waitFor({ state: 'detached' });
  await page.locator('[data-name=sample]').waitFor();
  const own = await invoke(page, 'shop_view', {});
  if (own.name !== 'Norrin Lane Garage') throw new Error(`the own shop is called "${own.name}"`);
  const { rows } = await invoke(page, 'jobs_search', {
    entry: { query: '', filter: '', after: '', rows: 0 },
  });
  if (rows.length > 0) throw new Error('what was done in the sample is in the own shop');
}

/** Stopped before it is made: said, and nothing is left. */
async function stopped(page) {
  await page.locator('[data-name=sample]').click();
  await page.locator('main progress').waitFor();
  await page.locator('section[role=status] button').click();
  await page.locator('[role=alert]').waitFor({ timeout: 60_000 });
  await page.locator('[data-name=sample]:enabled').waitFor();
  if (await page.locator('[data-name=sample-band]').count()) throw new Error('a stopped sample is shown');
}

async function goTo(page, hash) {
  await page.evaluate((address) => (location.hash = address), hash);
  await settled(page);
}

/** Asks the core as the screens do. */
function invoke(page, command, values) {
  return page.evaluate(([name, given]) => window.__TAURI_INTERNALS__.invoke(name, given), [command, values]);
}
