// Enters a circuit from a diagram as a finger would: a lamp behind a fuse and a switch (invented), first with a fault
// in it, then whole; keeps it, takes it out and brings it back, and refuses a text that is no circuit.
import { settled } from './look.mjs';

const PARTS = [
  { kind: 'fuse', name: 'F7', to: 'F7 out', amps: '10' },
  { kind: 'switch', name: 'Door switch', to: 'S1' },
  { kind: 'wire', name: 'Feed wire', to: 'L1', length_m: '3', size: '0.75', colour: 'GNWH' },
  { kind: 'lamp', name: 'Cargo lamp', to: 'L2', watts: '21' },
  { kind: 'wire', name: 'Ground wire', to: 'battery −', length_m: '1', size: '0.75', colour: 'BN' },
];

export async function ownCircuit(page, looks) {
  const fill = (name, value) => page.locator(`[name="${name}"]`).fill(value);
  const press = (name) => page.locator(`[data-name="${name}"]`).first().click();
  await page.evaluate(() => (location.hash = '#/circuits/edit'));
  await settled(page);
  await fill('title', 'Cargo lamp');
  await fill('source', 'page 12');
  await fill('complaint', 'Stays dark with the door open');
  for (const [place, part] of PARTS.entries()) {
    await page.locator('select[name=own_next_kind]').selectOption(part.kind);
    await press('own-add-part');
    for (const [field, value] of Object.entries(part)) {
      if (field !== 'kind') await fill(`parts/${place + 1}/${field}`, value);
    }
  }
  await fill('parts/5/length_m', '900');
  await page.locator('[name="parts/5/length_m"]').blur();
  await page.locator('select[name=works]').selectOption('Cargo lamp');
  await page.waitForFunction(
    () => document.querySelector('[data-name=own-verdict]')?.dataset.problems === '1',
  );
  await press('own-to-problem');
  await looks.at(page, 'own-circuit-problem');
  await fill('parts/5/length_m', '1,5');
  await page.locator('[name="parts/5/length_m"]').blur();
  await page.waitForFunction(
    () => document.querySelector('[data-name=own-verdict]')?.dataset.whole === 'true',
  );
  await page.locator('[data-name=own-solved]').scrollIntoViewIfNeeded();
  await looks.at(page, 'own-circuit-whole');
  await looks.whole(page, 'own-circuit');
  await press('own-keep');
  const row = page.locator('[data-name=own-circuit]');
  await row.waitFor();
  await looks.at(page, 'own-circuits');
  await press('own-remove');
  await press('own-undo');
  await row.waitFor();
  await press('own-share');
  await page.locator('[data-name=own-path]').waitFor();
  await page.locator('summary').last().click();
  await fill('own_paste', '[[[[');
  await press('own-import');
  await page.locator('[role=alert]').waitFor();
  await looks.at(page, 'own-circuit-refused');
  await page.evaluate(() => (location.hash = ''));
  await settled(page);
}
