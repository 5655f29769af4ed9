// What goes out to whom, a covered copy of a photo, and the papers themselves.
import { settled } from './look.mjs';
import { readsOnAPhone } from './phonePage.mjs';

/** What the shop pays others is its own; of everything else the customer gets all. */
const COSTS =
  /^(What the shop paid|Core charge the shop paid|What the programming was|How the programming options|What the supplier|Supplier)/;

/** Each recipient sees less than the customer; a value is decided otherwise and back; a photo is covered. */
export async function recipients(player) {
  const { page } = player;
  await page.locator('[data-name=goes-out]').waitFor();
  await unfold(page, 'fold-values-here');
  const ownCosts = await switches(page, 'values-here');
  const kept = await page.locator('[data-name=values-here] label').allInnerTexts();
  const others = kept.filter((text) => !COSTS.test(text.trim()));
  if (others.length > 0) throw new Error(`kept from the customer: ${others.join(', ')}`);
  for (const recipient of ['arbiter', 'card_issuer', 'supplier']) {
    await player.pick('recipient', recipient);
    // Each look at the screen begins it anew, and what was unfolded is folded.
    await unfold(page, 'fold-values-here');
    await page.locator('[data-name=values-here] label').first().waitFor();
    await settled(page);
    await player.once(`papers-${recipient}`);
  }
  await otherwise(player);
  await cover(player);
  await player.pick('recipient', 'customer');
  await count(page, 'values-here', ownCosts);
}

/** Writes reports, the phone's page and the packet; the packet's verification has to be good. */
export async function writePapers(player) {
  const { page } = player;
  await player.pick('report_form', 'page');
  await writeReport(player);
  const [phone] = (await page.locator('[data-name=path]').allTextContents()).slice(-1);
  await readsOnAPhone(page.context().browser(), phone.trim());
  await player.pick('report_form', 'summary');
  await writeReport(player);
  await player.press('write-packet');
  await page.locator('[data-name=verification]').waitFor({ timeout: 60_000 });
  await player.once('papers');
  const good = await page.locator('[data-name=verification]').getAttribute('data-good');
  if (good !== 'true') throw new Error('the packet was refused');
  return page.locator('[data-name=path]').allTextContents();
}

/** One more file is listed when it is written; where it lies is folded away. */
async function writeReport(player) {
  const files = player.page.locator('[data-name=file]');
  const before = await files.count();
  await player.press('write-report');
  await files.nth(before).waitFor({ timeout: 60_000 });
}

/** Opens what is folded away. */
async function unfold(page, name) {
  const fold = page.locator(`details[data-name=${name}]`);
  if ((await fold.getAttribute('open')) === null) await fold.locator('summary').first().click();
}

async function otherwise(player) {
  const { page } = player;
  await unfold(page, 'fold-values-here');
  const before = await switches(page, 'values-here');
  await page.locator('[data-name=values-here] label').first().click();
  await count(page, 'values-here', before - 1);
  await player.press('preset');
  await count(page, 'values-here', before);
}

/** Draws over a part of a photo; the copy then goes out in place of the original. */
async function cover(player) {
  const { page } = player;
  await unfold(page, 'fold-photos');
  await page.locator('[data-name^=cover-]').first().click();
  const board = page.locator('[data-name=cover-board]');
  await board.waitFor();
  await page.locator('.board img').evaluate((picture) => picture.decode());
  await board.scrollIntoViewIfNeeded();
  const box = await board.boundingBox();
  await draw(page.mouse, box);
  if ((await page.locator('rect.covered').count()) !== 2) throw new Error('two areas were drawn');
  await settled(page);
  await player.once('cover');
  await player.press('cover-undo');
  await player.press('keep-cover');
  await page.locator('[data-name=covered]').waitFor();
  await player.once('cover-kept');
  await player.goTo('papers');
  await unfold(page, 'fold-photos');
  await page.locator('[data-share=covered]').first().waitFor();
}

/** One rectangle drawn, and one by two opposite corners, for a hand that can't draw. */
async function draw(mouse, box) {
  await mouse.move(box.x + 40, box.y + 40);
  await mouse.down();
  await mouse.move(box.x + 120, box.y + 90, { steps: 4 });
  await mouse.up();
  await mouse.click(box.x + 200, box.y + 60);
  await mouse.click(box.x + 260, box.y + 110);
}

function switches(page, name) {
  return page.locator(`[data-name=${name}] input[role=switch]`).count();
}

async function count(page, name, wanted) {
  await page.waitForFunction(
    ([group, number]) =>
      document.querySelectorAll(`[data-name=${group}] input[role=switch]`).length === number,
    [name, wanted],
  );
}
