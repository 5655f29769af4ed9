// The system ends the app in the middle of something; what was entered is there when it comes back. And what is entered as markup
// stays text.
import { settled } from './look.mjs';
import { toValue } from './reading.mjs';

const MARKUP = '<img src=x onerror="window.ran=1"><b>bold</b> &amp; {{7*7}}';

/** Places of a job where something was begun: station, what is entered there, and what has to be there afterwards. */
const BEGUN = [
  { at: 'intake', name: 'complaint' },
  { at: 'intake', name: 'make' },
  { at: 'finding', name: 'finding_words' },
  { at: 'estimate', press: ['line-add', 'add-labour'], name: 'description-1' },
  { at: 'approval', name: 'approval_words' },
  { at: 'part', name: 'supplier' },
  { at: 'programming', name: 'provider' },
  { at: 'proof', name: 'note' },
  { at: 'invoice', press: ['line-add', 'add-part'], name: 'description-1' },
  { at: 'hand-over', name: 'warranty' },
];

/** On a job of its own with a meter and a circuit. */
export async function endedEverywhere(player) {
  const { page } = player;
  for (const { at, press, name } of BEGUN) {
    await player.goTo(at);
    if ((await page.locator(`[name="${name}"]`).count()) === 0) {
      for (const button of press ?? []) await player.press(button);
    }
    const field = page.locator(`[name="${name}"]`);
    await field.fill('');
    await field.pressSequentially(MARKUP);
    // Nothing is left, nothing is pressed: drafts are written shortly after the last key.
    await page.waitForTimeout(600);
    await player.goTo(at);
    await page.reload();
    await settled(page);
    await field.waitFor();
    const value = await field.inputValue();
    if (value !== MARKUP) throw new Error(`ended at ${at}, ${name} reads "${value}" afterwards`);
    await stillText(page, `${at}, ${name}`);
  }
  await readingBegun(player);
  await player.goTo('');
  await stillText(page, 'time line');
  await page.evaluate(() => (location.hash = '#/'));
  await settled(page);
  await stillText(page, 'list of jobs');
  await player.goTo('');
}

async function readingBegun(player) {
  const { page } = player;
  await player.goTo('reading/free');
  await toValue(player);
  for (const key of '4.7') await page.locator(`[data-key="${key}"]`).click();
  await page.waitForTimeout(600);
  await page.reload();
  await settled(page);
  await toValue(player);
  const value = await page.locator('[name=value]').inputValue();
  if (value !== '4.7') throw new Error(`ended while a reading was entered, its value reads "${value}"`);
}

async function stillText(page, where) {
  const found = await page.evaluate(() => ({
    ran: window.ran === 1,
    made: document.querySelectorAll('#app img[src="x"], #app b').length,
  }));
  if (found.ran || found.made > 0) throw new Error(`${where}: what was entered as text became markup`);
}
