// The same shop after a restart: its key locked, then lost; and brought back on a bare device from its backup.
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startBridge } from './bridge.mjs';
import { PASSPHRASE, look, open, show, twice } from './custody.mjs';

/** Goes through all three; `ends` collects what is to be ended and cleared away. */
export async function returning(player, { program, data, bridge, backup, ends }) {
  await lock(player);
  bridge.stop();
  const locked = await begin(player, program, data, ends);
  await unlock(player);
  locked.stop();
  await loseKey(data);
  const lost = await begin(player, program, data, ends);
  await goOn(player);
  lost.stop();
  const bare = await mkdtemp(join(tmpdir(), 'testimeter-bare-'));
  ends.push(() => rm(bare, { recursive: true, force: true }));
  await begin(player, program, bare, ends);
  await restore(player, backup);
}

async function begin(player, program, data, ends) {
  const bridge = await startBridge(program, data);
  ends.push(bridge.stop);
  await player.page.goto(bridge.address);
  return bridge;
}

/** Whatever holds the key is gone; what came before it stays. */
async function loseKey(data) {
  const folder = join(data, 'keys');
  const files = (await readdir(folder, { withFileTypes: true })).filter((one) => one.isFile());
  if (files.length === 0) throw new Error('no key file lies where it is looked for');
  for (const file of files) await rm(join(folder, file.name));
}

async function lock(player) {
  await show(player.page, '#/device');
  await open(player.page, 'protect-key');
  await twice(player.page, 'new_passphrase');
  await player.press('protect');
  await player.page.locator('[name=old_passphrase]').waitFor();
}

async function unlock(player) {
  const { page } = player;
  // The first screen asks at once: until then nothing that is entered can be sealed.
  await page.locator('[data-name=key-attention]').waitFor();
  await look(player, 'key-locked-jobs');
  await page.locator('[name=unlock_passphrase]').fill('not the right one');
  await player.press('unlock-key');
  await page.locator('[role=alert]').waitFor();
  await look(player, 'key-locked');
  await page.locator('[name=unlock_passphrase]').fill(PASSPHRASE);
  await player.press('unlock-key');
  await page.locator('[data-name=key-attention]').waitFor({ state: 'detached' });
}

async function goOn(player) {
  const { page } = player;
  await page.locator('[data-name=key-attention]').waitFor();
  await page.locator('[data-name=key-attention] a').click();
  await page.locator('[data-name=lost]').waitFor();
  await look(player, 'key-lost');
  if (await page.locator('[data-name=go-on-without]').isEnabled())
    throw new Error('a key is given up unread');
  await page.locator('label:has([name=lost_understood])').click();
  await player.press('go-on-without');
  await page.locator('[data-name=key][data-state=ready]').waitFor();
}

async function restore(player, backup) {
  const { page } = player;
  await page.locator('[data-name=to-restore]').click();
  await page.locator('[name=restore_path]').fill(backup);
  await page.locator('[name=restore_passphrase]').fill(PASSPHRASE);
  await player.pick('restore_as', 'same_device');
  await player.press('restore-now');
  // The backup was made as it is by default, without the signing key.
  await page.locator('[data-name=key][data-state=lost]').waitFor({ timeout: 60_000 });
  await look(player, 'restored-without-key');
  await page.locator('label:has([name=lost_understood])').click();
  await player.press('go-on-without');
  await page.locator('[data-name=key][data-state=ready]').waitFor();
  await player.goTo('');
  await page.locator('[data-stage=handed_over]').waitFor();
  await look(player, 'restored-timeline');
}
