// A VIN's label before the camera at the check-in: read from the frames as they come, offered, taken with one tap. The camera is
// a film of a demo picture, as in camera.mjs.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { filmOf, inEnglish } from './camera.mjs';
import { Player } from './player.mjs';

/** What the label says: see `demo-data/photos.json`. */
const LABEL = 'c-03-vin.jpg';
const VIN = '0ZX2M8PX9NA005093';

export async function labels(browse, folder, script, looks) {
  const place = await mkdtemp(join(tmpdir(), 'testimeter-labels-'));
  try {
    const film = await filmOf(await browse([]), join(folder, LABEL), place);
    const page = await browse([
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ]);
    await page.locator('[data-name=take-in]').waitFor();
    await inEnglish(page);
    const player = new Player(page, folder, script, looks);
    await player.open();
    const opened = Date.now();
    await player.press('label-vin-camera');
    await page.locator('[data-name=label-found]').waitFor();
    console.log(`from the tap to the VIN, the camera's start included: ${Date.now() - opened} ms`);
    await player.once('label-found');
    const said = await page.locator('[data-name=label-found]').innerText();
    if (!said.includes(VIN) || !said.includes('2022')) throw new Error(`the label is said to say "${said}"`);
    const vin = async () => (await jobView(player)).intake.vin;
    if ((await vin()) !== '') throw new Error('a VIN was kept that nobody took');
    await player.press('label-vin-take');
    await page.waitForFunction((wanted) => document.querySelector('[name=vin]')?.value === wanted, VIN);
    await page.locator('[data-name=vin-year]').waitFor();
    if ((await vin()) !== VIN) throw new Error(`the VIN on record is "${await vin()}"`);
    // It must not ask a shop that is stopped later on.
    await page.close();
  } finally {
    await rm(place, { recursive: true, force: true });
  }
}

/** The job as the core has it. */
function jobView({ page, job }) {
  return page.evaluate((id) => window.__TAURI_INTERNALS__.invoke('job_view', { job: id }), job);
}
