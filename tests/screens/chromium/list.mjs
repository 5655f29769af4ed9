// A shop with more jobs than one page of its list.
import { settled } from './look.mjs';

const JOBS = 60;

/** Searches, loads more, goes down, opens a job and comes back: all is as it was left. */
export async function backToTheList(player) {
  const { page } = player;
  await page.evaluate(async (count) => {
    for (let made = 0; made < count; made += 1) await window.__TAURI_INTERNALS__.invoke('job_open');
  }, JOBS);
  await page.evaluate(() => (location.hash = '#/'));
  await settled(page);
  const shown = page.locator('[data-name=jobs-count]');
  await page.waitForFunction(() =>
    /50/.test(document.querySelector('[data-name=jobs-count]')?.innerText ?? ''),
  );
  const total = Number(/(\d+)\D*$/.exec(await shown.innerText())[1]);
  if (total < JOBS) throw new Error(`the list counts ${total} jobs`);
  await player.once('jobs-page');
  await player.press('more-jobs');
  await page.waitForFunction(
    (all) =>
      document.querySelector('[data-name=jobs-count]').innerText.includes(`${all}`) &&
      !document.querySelector('[data-name=more-jobs]'),
    total,
  );
  await page.evaluate(() => scrollTo(0, 2400));
  await page.waitForFunction(() => scrollY > 2000);
  const before = await page.evaluate(() => scrollY);
  await page.evaluate(() => {
    const jobs = [...document.querySelectorAll('[data-name=job]')];
    jobs.find((job) => job.getBoundingClientRect().top > 100).click();
  });
  await page.waitForFunction(() => /#\/job\//.test(location.hash));
  await settled(page);
  await page.goBack();
  await settled(page);
  const after = await page.evaluate(() => scrollY);
  const rows = await page.evaluate(() => {
    const last = [...document.querySelectorAll('[role=listitem]')].at(-1);
    return Number(last?.getAttribute('aria-setsize'));
  });
  if (Math.abs(after - before) > 2 || rows !== total)
    throw new Error(`back at the list: ${rows} of ${total} jobs, at ${after} instead of ${before}`);
}
