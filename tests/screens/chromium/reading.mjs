// One reading, entered with the thumb: the fields of the test come prefilled, the rest is touched.
import { settled } from './look.mjs';
import { handReach } from './targets.mjs';

/** The lower third, and a little for the line above it. */
const LOWER_THIRD = 0.36;

/** Enters and keeps a reading; the screen has to say that it is on record. */
export async function keepReading(player, entry) {
  const { page } = player;
  await player.goTo(`reading/${entry.test || 'free'}`);
  await readCautions(player);
  await player.once('reading');
  for (const file of entry.photos) {
    await toCamera(player);
    await player.upload('reading', [file]);
  }
  await toValue(player);
  await player.press('reading-fields');
  await state(player, entry);
  await player.once('reading-fields');
  await player.press('fields-done');
  await value(player, entry);
  await player.pick('complaint', entry.complaint_present);
  await inLowerThird(player);
  await player.press('keep-reading');
  await Promise.race([
    page.locator('[data-name=reading-kept]').waitFor(),
    page.locator('[role=alert]').waitFor(),
  ]);
  await player.kept();
  await player.once('reading-kept');
}

/** To where a photo is taken: a reading that was begun stands at its value. */
export async function toCamera({ page }) {
  await settled(page);
  if (await page.locator('[data-name=to-camera]').count())
    await page.locator('[data-name=to-camera]').click();
  await page.locator('[data-name=viewfinder]').waitFor();
  await settled(page);
}

/** On to the value; one that was begun stands there already. */
export async function toValue({ page }) {
  await settled(page);
  const without = page.locator('[data-name=without-photo]');
  const entered = page.locator('main.enter').waitFor();
  // A reading that was begun may go on to its value by itself while the button is on its way out.
  if (await without.count()) await Promise.race([without.click().catch(() => {}), entered]);
  await entered;
}

/** Reads one caution after the other; a hasty second tap must not take the next one for read. */
async function readCautions(player) {
  const { page } = player;
  const read = page.locator('[data-name=caution-read]');
  await settled(page);
  while (await read.count()) {
    await player.once('caution');
    await page.waitForTimeout(500);
    const caution = await page.locator('[data-caution]').getAttribute('data-caution');
    await read.dblclick();
    await page.waitForFunction(
      (before) => document.querySelector('[data-caution]')?.dataset.caution !== before,
      caution,
    );
  }
}

async function state(player, entry) {
  if (await has(player, 'mode')) await choose(player, 'mode', entry.mode);
  for (const lead of ['red', 'black']) {
    if (await has(player, lead)) await choose(player, lead, entry[lead]);
  }
  for (const [variable, position] of Object.entries(entry.state))
    await choose(player, `state:${variable}`, position);
  if (await has(player, 'load')) await choose(player, 'load', entry.load);
  if (await has(player, 'recorded')) await choose(player, 'recorded', recorded(entry));
  if (await has(player, 'condition')) await choose(player, 'condition', entry.condition ?? 'none');
  if (await has(player, 'placed')) await choose(player, 'placed', String(entry.leads_placed_anew));
  if (!entry.note) return;
  await slot(player, 'note');
  await player.fill('note', entry.note);
}

/** Which numbers of a recording a reading has. */
function recorded({ lowest, highest }) {
  if (lowest && highest) return 'both';
  return lowest ? 'lowest' : highest ? 'highest' : 'value';
}

async function value(player, entry) {
  if (entry.unit === 'yes_no') return player.pick('value', entry.value);
  for (const field of ['lowest', 'highest', 'value'].filter((one) => entry[one])) {
    if (await player.page.locator('[data-name=which-number]').count())
      await player.pick('which-number', field);
    await player.once('reading-keypad');
    while ((await player.page.locator('[data-name=unit]').getAttribute('data-unit')) !== entry.unit)
      await player.press('unit');
    for (const key of keysOf(entry[field])) await player.page.locator(`[data-key="${key}"]`).click();
  }
}

function keysOf(text) {
  return text === 'OL' ? ['OL'] : [...text.replace(',', '.')];
}

async function choose(player, id, wanted) {
  await slot(player, id);
  await pick(player, wanted);
}

async function pick(player, wanted) {
  await player.page.locator(`section.hand [data-value="${wanted}"]`).click();
}

async function slot(player, id) {
  await player.page.locator(`[data-slot="${id}"]`).click();
}

async function has(player, id) {
  return (await player.page.locator(`[data-slot="${id}"]`).count()) > 0;
}

async function inLowerThird(player) {
  const reach = await handReach(player.page);
  if (reach > LOWER_THIRD)
    player.looks.faults.push(
      `reading: the hand's zone reaches up ${(reach * 100).toFixed(0)} % of the screen`,
    );
}
