// What a hand in a hurry does: leaves things half entered, keeps what can't be kept, lays the phone on its side.
import { everyCircuit, onTheBench } from './bench.mjs';
import { backToTheList } from './list.mjs';
import { endedEverywhere } from './ended.mjs';
import { settled } from './look.mjs';
import { toValue } from './reading.mjs';

const LYING = { width: 844, height: 390 };
/** The sign that something is on record. */
const RECORD = '[data-record=true][data-state=kept]';

/** With `circuits` every circuit of the library is looked at too, and the app is ended at every step. On a job of its own; the player's own job is on the screen again afterwards. */
export async function careless(player, circuits) {
  const { page } = player;
  const played = player.job;
  await page.evaluate(() => (location.hash = '#/'));
  await player.open();
  await halfTyped(player);
  await twinMeters(player);
  await player.goTo('circuit');
  await page.locator('[data-name=circuit] [data-value]').first().click();
  await page.locator('svg[role=img]').first().waitFor();
  await onTheBench(player);
  await halfEntered(player);
  await refusedReading(player);
  await lying(player);
  await otherTests(player);
  await nothingPicked(player);
  await badLine(player);
  await dotForASignature(player);
  if (circuits) {
    await endedEverywhere(player);
    await everyCircuit(player);
  }
  await backToTheList(player);
  player.job = played;
  await player.goTo('');
}

/** A field that was never left is as it was after the page is made anew. */
async function halfTyped(player) {
  const { page } = player;
  await player.goTo('intake');
  const complaint = page.locator('[name=complaint]');
  await complaint.pressSequentially('Hums after', { delay: 20 });
  await page.reload();
  await complaint.waitFor();
  const text = await complaint.inputValue();
  if (text !== 'Hums after') throw new Error(`a complaint half typed reads "${text}" after a reload`);
  await complaint.fill('Hums after the key is off');
  await complaint.blur();
  await settled(page);
  await page.locator(`.field:has([name=complaint]) ${RECORD}`).waitFor();
}

/** The meter used last and the ordinary one are told apart, whatever they are called. */
async function twinMeters(player) {
  const { page } = player;
  const choices = page.locator('[data-name=meter] [data-value]');
  await player.goTo('circuit');
  const names = await choices.allTextContents();
  const name = names.at(-2).trim();
  await choices.nth(names.length - 2).click();
  await page.locator(`${RECORD}`).waitFor();
  await oneInUse(page, name, 1);
  await player.meter_choose({
    name,
    volts_input_megohms: '1',
    low_impedance_kilohms: '',
    accuracy_percent: '1.2',
    accuracy_counts: '2',
  });
  await settled(page);
  await oneInUse(page, name, 2);
  await player.once('meters-of-one-name');
}

async function oneInUse(page, name, wanted) {
  const list = page.locator('[data-name=meter]');
  const named = await list.locator('[data-value]', { hasText: name }).count();
  const picked = await list.locator('.picked').count();
  if (named !== wanted || picked !== 1)
    throw new Error(`${named} meters are called ${name} and ${picked} are in use, not ${wanted} and 1`);
}

/** Each test keeps what was entered for it. */
async function halfEntered(player) {
  const { page } = player;
  const [one, other] = await tests(player);
  await enter(player, one, '7.3');
  await enter(player, other, '4');
  await open(player, one);
  const value = await page.locator('[name=value]').inputValue();
  if (value !== '7.3') throw new Error(`a reading half entered reads "${value}" after another test`);
}

/** A refusal stands at the button, within reach; nothing looks kept. */
async function refusedReading(player) {
  const { page } = player;
  await player.goTo('reading/free');
  await toValue(player);
  const keep = page.locator('[data-name=keep-reading]');
  if (await keep.isEnabled()) throw new Error('a reading without a value can be kept');
  for (const key of '99999') await page.locator(`[data-key="${key}"]`).click();
  if (await keep.isEnabled()) throw new Error('what the car does right now is chosen beforehand');
  await player.pick('complaint', 'yes');
  await player.press('keep-reading');
  const alert = page.locator('section.hand [role=alert]');
  await alert.waitFor();
  const inView = await alert.evaluate((note) => note.getBoundingClientRect().bottom <= innerHeight);
  const kept = await page.locator(RECORD).count();
  if (!inView || kept > 0) throw new Error('a refused reading looks kept');
  await player.once('reading-refused');
  for (let left = 5; left > 0; left -= 1) await page.locator('[data-key=erase]').click();
}

/** On its side nothing of the reading lies under the keypad. */
async function lying(player) {
  const { page } = player;
  const standing = page.viewportSize();
  await page.setViewportSize(LYING);
  await settled(page);
  await uncovered(page);
  await player.once('lying-value');
  await player.press('reading-fields');
  for (const slot of ['complaint', 'photo']) {
    await page.locator(`[data-slot=${slot}]`).click();
    await settled(page);
    await player.once(`lying-${slot}`);
  }
  await player.goTo('reasoning');
  await player.once('lying-reasoning');
  await page.setViewportSize(standing);
}

async function uncovered(page) {
  const hidden = await page.evaluate(() => {
    const fields = [...document.querySelectorAll('[name=value], [data-name=unit], [data-key]')];
    const seen = (field) => {
      const { left, right, top, bottom } = field.getBoundingClientRect();
      const [x, y] = [(left + right) / 2, (top + bottom) / 2];
      return top >= 0 && bottom <= innerHeight && field.contains(document.elementFromPoint(x, y));
    };
    return fields
      .filter((field) => !seen(field))
      .map((field) => field.getAttribute('aria-label') ?? field.textContent);
  });
  if (hidden.length > 0) throw new Error(`on its side these are covered: ${hidden.join(', ')}`);
}

/** "Other tests" comes to the tests, not to the top of their screen. */
async function otherTests(player) {
  const { page } = player;
  await player.goTo('reading');
  await readCautions(page);
  await toValue(player);
  await player.press('reading-fields');
  await page.locator('a.other').click();
  const heading = page.locator('[data-name=other-tests]');
  await heading.waitFor();
  await settled(page);
  const at = await heading.evaluate((title) => {
    const { top } = title.getBoundingClientRect();
    return { top, seen: top >= 0 && top < innerHeight / 2, focused: document.activeElement === title };
  });
  if (!at.seen || !at.focused)
    throw new Error(`the other tests are not where they were asked for: ${JSON.stringify(at)}`);
}

/** With nothing picked nothing is called, and nothing is sealed. */
async function nothingPicked(player) {
  const { page } = player;
  await keepSome(player);
  await player.goTo('finding');
  await player.press('keep-finding');
  await page.locator('[data-name=refused]').waitFor();
  await player.once('finding-nothing-picked');
  if (await page.locator('[data-name=finding]').count())
    throw new Error('a finding was kept with nothing picked');
}

/** A line that can't be read says so once, at the line; no old total stays. */
async function badLine(player) {
  const { page } = player;
  await player.estimate_keep({ lines: [line('Search', '1'), line('Wire', '1')] });
  await player.fill('price-2', '12..5');
  await page.locator('[data-name=total-unknown]').waitFor();
  await player.press('keep-estimate');
  await page.locator('fieldset:has([name=price-2]) [role=alert]').waitFor();
  await settled(page);
  const alerts = await page.locator('[role=alert]').count();
  if (alerts !== 1) throw new Error(`a line that can't be read is said ${alerts} times`);
  await player.once('line-refused');
  await player.fill('price-2', '12.50');
}

async function dotForASignature(player) {
  const { page } = player;
  await player.goTo('approval');
  await player.fill('approval_name', 'Inez Calder');
  const pad = page.locator('[data-name=signature]');
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  await page.mouse.click(box.x + 40, box.y + 40);
  await player.press('keep-approval');
  await page.locator('[data-name=refused]').waitFor();
  await player.once('signature-too-short');
}

/** The first two tests on offer that are measured in volts. */
async function tests(player) {
  await player.goTo('reasoning');
  const links = await player.page
    .locator('main a[href*="/reading/"]')
    .evaluateAll((all) => all.map((a) => a.hash));
  const ids = [...new Set(links.map((hash) => decodeURIComponent(hash.split('/')[4])))];
  const measured = [];
  for (const id of ids.filter((one) => one && one !== 'free')) {
    await open(player, id);
    if (await player.page.locator('[data-key="7"]').count()) measured.push(id);
    if (measured.length === 2) return measured;
  }
  throw new Error('fewer than two tests with a meter are on offer');
}

async function enter(player, id, digits) {
  await open(player, id);
  for (const key of digits) await player.page.locator(`[data-key="${key}"]`).click();
}

/** A test with its value under the thumb, its cautions read. */
async function open(player, id) {
  const { page } = player;
  await player.goTo(`reading/${encodeURIComponent(id)}`);
  await readCautions(page);
  await toValue(player);
}

/** One after the other; a tap that comes too soon doesn't count. */
async function readCautions(page) {
  const read = page.locator('[data-name=caution-read]');
  while (await read.count()) {
    await page.waitForTimeout(500);
    await read.click();
    await settled(page);
  }
}

async function keepSome(player) {
  const { page } = player;
  const [first] = await tests(player);
  await open(player, first);
  while (await page.locator('[name=value]').inputValue()) await page.locator('[data-key=erase]').click();
  for (const key of '12.4') await page.locator(`[data-key="${key}"]`).click();
  await player.pick('complaint', 'yes');
  await player.press('keep-reading');
  await page.locator('[data-name=reading-kept]').waitFor();
  // The next test may have cautions of its own.
  await player.press('next-reading');
  await settled(page);
  await readCautions(page);
  await toValue(player);
  if (await page.locator('[data-name=complaint] .picked').count())
    throw new Error('what the car does right now is chosen beforehand');
}

function line(description, quantity) {
  return { kind: 'labour', description, quantity, unit_price: '120', taxed: false };
}
