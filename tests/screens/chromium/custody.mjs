// What keeps a shop's evidence safe: key, time from outside, copies of everything, forgetting a customer.
import { startAuthority } from './authority.mjs';
import { settled } from './look.mjs';

/** Invented, and long enough. */
export const PASSPHRASE = 'copper kettle seven lanes';
/** Nobody listens there: an authority that gives no answer. */
const SILENT = 'http://127.0.0.1:9/time';

/** Goes through all of it on a finished job, which is forgotten at the end. Gives the backup's path. */
export async function custody(player, number) {
  await message(player);
  await key(player);
  await outsideTime(player);
  await quietTime(player);
  const backup = await copies(player);
  await forget(player, number);
  return backup;
}

/** What the customer is sent names the job's and the key's words, in either language. */
async function message(player) {
  const { page } = player;
  await player.goTo('approval');
  const text = page.locator('[name=message_text]');
  const texts = [];
  for (const language of ['en', 'es']) {
    await player.pick('message_language', language);
    texts.push(await text.inputValue());
  }
  const words = await page.locator('[data-name=checkpoint] .words').allTextContents();
  const told = texts.every((one) => words.every((part) => one.includes(part)));
  if (!told || texts[0] === texts[1]) throw new Error('the message leaves out words, or is in one language');
  await look(player, 'approval-message');
}

async function key(player) {
  const { page } = player;
  await show(page, '#/device');
  const before = await words(page);
  await open(page, 'protect-key');
  await twice(page, 'new_passphrase');
  await player.press('protect');
  await page.locator('[name=old_passphrase]').waitFor();
  await page.locator('[name=old_passphrase]').fill(PASSPHRASE);
  await player.press('unprotect');
  await page.locator('[name=old_passphrase]').waitFor({ state: 'detached' });
  await open(page, 'change-key');
  await page.locator('label:has([name=change_understood])').click();
  await player.press('change-now');
  await page.waitForFunction(
    (old) => document.querySelector('[data-name=fingerprint-words]').textContent !== old,
    before,
  );
  await player.kept();
  await look(player, 'device-changed');
}

async function outsideTime(player) {
  const { page } = player;
  await show(page, '#/time');
  await look(player, 'time-none');
  await open(page, 'authority-form');
  await page.locator('[name=authority_address]').fill(SILENT);
  await look(player, 'time-adding');
  await player.press('keep-authority');
  await page.locator('[data-name=authority]').waitFor();
  // A report signs a checkpoint, which then waits for its time.
  await player.goTo('papers');
  // The papers come with the list of what goes out.
  await page.locator('[data-name=goes-out]').waitFor();
  const reports = await page.locator('[data-name=path]').count();
  await player.press('write-report');
  await page.waitForFunction((old) => document.querySelectorAll('[data-name=path]').length > old, reports, {
    timeout: 60_000,
  });
  await show(page, '#/time');
  await player.press('ask-now');
  await page.locator('[data-name=waiting] .note').waitFor();
  await page.locator('[data-name=unreachable]').waitFor();
  await settled(page);
  await look(player, 'time-waiting');
  await page.locator('[data-name=authority] button').click();
  await page.locator('[data-name=authority]').waitFor({ state: 'detached' });
}

/** With an authority that answers, a report's checkpoint gets its time without anybody asking. */
async function quietTime(player) {
  const { page } = player;
  const authority = await startAuthority();
  try {
    await show(page, '#/time');
    await open(page, 'authority-form');
    await page.locator('[name=authority_address]').fill(authority.address);
    await page.locator('[name=authority_roots]').fill(authority.root);
    await player.press('keep-authority');
    await page.locator('[data-name=authority]').waitFor();
    await look(player, 'time-chosen');
    await player.goTo('papers');
    await player.press('write-report');
    await page.locator('[data-name=outside-time][data-trusted=true]').first().waitFor({ timeout: 60_000 });
    await look(player, 'papers-time');
    await player.goTo('');
    await page.locator('[data-kind=timestamp]').first().waitFor();
    await player.looks.whole(page, 'timeline-time');
  } finally {
    await authority.stop();
  }
}

async function copies(player) {
  const { page } = player;
  await show(page, '#/copies');
  await twice(page, 'backup_passphrase');
  await player.press('write-backup');
  await page.locator('[data-name=backup] [data-name=path]').waitFor({ timeout: 60_000 });
  await open(page, 'check-backup');
  await page.locator('[name=check_passphrase]').fill(PASSPHRASE);
  await player.press('check-now');
  await page.locator('[data-name=backup-contents]').waitFor({ timeout: 60_000 });
  const whole = await page.locator('[data-name=backup-contents]').getAttribute('data-whole');
  if (whole !== 'true') throw new Error('the backup just written is called damaged');
  const key = await page.locator('[data-name=has-key]').getAttribute('data-value');
  if (key !== 'false') throw new Error('the signing key went into a backup that nobody asked it for');
  await open(page, 'open-export');
  await player.press('write-export');
  const folder = page.locator('[data-name=open-export] [data-name=path]');
  await folder.waitFor({ timeout: 60_000 });
  await open(page, 'open-import');
  await page.locator('[name=import_path]').fill(await folder.textContent());
  await player.press('take-in-folder');
  await page.locator('[data-name=open-import] .note').waitFor({ timeout: 60_000 });
  await settled(page);
  await look(player, 'copies-done');
  return page.locator('[data-name=backup] [data-name=path]').textContent();
}

async function forget(player, number) {
  const { page } = player;
  await player.goTo('forget');
  await page.locator('[name=forget_number]').waitFor();
  if (await page.locator('[data-name=forget]').isEnabled()) throw new Error('forgetting takes one touch');
  const out = await page.locator('[data-name=copies]').textContent();
  for (const copy of ['backup-', 'records-', 'packet'])
    if (!out.includes(copy))
      throw new Error(`forgetting doesn't name ${copy} among what it can't reach: ${out}`);
  await look(player, 'forget');
  await page.locator('[name=forget_number]').fill(String(number));
  await player.press('forget');
  await page.locator('[data-name=forgotten]').waitFor({ timeout: 60_000 });
  await settled(page);
  await look(player, 'forgotten');
  await player.goTo('papers');
  await page.locator('[data-name=goes-out]').waitFor();
  await look(player, 'papers-forgotten');
  await player.press('write-packet');
  await page.locator('[data-name=verification]').waitFor({ timeout: 60_000 });
  const good = await page.locator('[data-name=verification]').getAttribute('data-good');
  if (good !== 'true') throw new Error('what is left after forgetting is refused');
}

/** Goes to a screen outside a job. */
export async function show(page, hash) {
  await page.evaluate((to) => (location.hash = to), hash);
  await settled(page);
}

/** A look at a screen, and its whole length for people. */
export async function look(player, name) {
  await player.looks.at(player.page, name);
  await player.looks.whole(player.page, name);
}

/** Unfolds what is folded away. */
export async function open(page, fold) {
  const closed = page.locator(`[data-name=${fold}]:not([open]) > summary`);
  if (await closed.count()) await closed.click();
}

/** Types the passphrase into both fields. */
export async function twice(page, name) {
  await page.locator(`[name=${name}]`).fill(PASSPHRASE);
  await page.locator(`[name=${name}_again]`).fill(PASSPHRASE);
}

function words(page) {
  return page.locator('[data-name=fingerprint-words]').textContent();
}
