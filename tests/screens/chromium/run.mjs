// node run.mjs --bridge PROGRAM --job FOLDER [--out FOLDER] : a whole job through the shipped screens in Chromium at
// phone size, with the real backend; then every screen again in both themes and both languages. Exit code 1 on any fault.
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { startBridge } from './bridge.mjs';
import { emptyPage, launch } from './browser.mjs';
import { camera } from './camera.mjs';
import { custody } from './custody.mjs';
import { everyScreen } from './everyScreen.mjs';
import { careless } from './careless.mjs';
import { firstStart } from './firstStart.mjs';
import { byKeyboard } from './keyboard.mjs';
import { labels } from './labels.mjs';
import { Looks } from './look.mjs';
import { ownCircuit } from './ownCircuit.mjs';
import { photos } from './photos.mjs';
import { Player } from './player.mjs';
import { tapToPaint } from './taps.mjs';
import { returning } from './returning.mjs';
import { sampleJob } from './sample.mjs';

const { values } = parseArgs({
  options: {
    bridge: { type: 'string' },
    job: { type: 'string' },
    out: { type: 'string', default: 'target/screens' },
    quick: { type: 'boolean', default: false },
  },
});

/** Plays one part of the check and says how long it took: what grows slow is seen where it grows. */
async function timed(part, play) {
  const begun = performance.now();
  const answer = await play();
  console.log(`${part}: ${((performance.now() - begun) / 1000).toFixed(0)} s`);
  return answer;
}

/** A page of the app at phone size; what goes wrong in it is a fault. */
async function pageOf(one) {
  const page = await emptyPage(one, (fault) => looks.faults.push(fault));
  await page.goto(bridge.address);
  return page;
}

/** A page in a browser of its own, started with more arguments. */
async function withMore(more) {
  const another = await launch(more);
  ends.push(() => another.close());
  return pageOf(another);
}

/** Plays the script's steps and leaves the written papers. */
async function playJob(player) {
  await player.open();
  for (const step of script.steps) {
    await player.play(step).catch((error) => {
      throw new Error(`${step.do}: ${error.message}`, { cause: error });
    });
  }
  const paths = await player.papers();
  console.log(`job played through the screens; written: ${paths.join(', ')}`);
}

const folder = resolve(values.job);
const script = JSON.parse(await readFile(join(folder, 'job.json'), 'utf8'));
const data = await mkdtemp(join(tmpdir(), 'testimeter-screens-'));
const bridge = await startBridge(resolve(values.bridge), data);
const browser = await launch([]);
const ends = [];
const looks = new Looks(resolve(values.out));

try {
  const page = await pageOf(browser);
  await timed('first start', () => firstStart(page, looks));
  // Once is enough for what doesn't hang on the job.
  const first = basename(folder).startsWith('1-');
  if (first) await timed('sample', () => sampleJob(page, looks));
  await timed('own circuit', () => ownCircuit(page, looks));
  const photosAt = resolve(folder, script.photos);
  const player = new Player(page, photosAt, script, looks);
  await timed('the job', () => playJob(player));
  const { p95, taps } = await timed('taps', () => tapToPaint(page, player.job));
  console.log(`tap to paint at a quarter of the speed: p95 ${p95} ms over ${taps} taps`);
  const look = { number: Number(basename(folder)[0]), quick: values.quick };
  await timed('every screen', () => everyScreen(page, player.job, looks, look));
  await timed('photos', () => photos(page, player.job, looks));
  await timed('careless hands', () => careless(player, first));
  if (first) {
    await timed('keyboard', () => byKeyboard(page, photosAt, script, looks));
    await timed('labels', () => labels(withMore, photosAt, script, looks));
  }
  await timed('camera', () => camera(withMore, photosAt, script, looks));
  // The first job of a new shop has the number 1.
  const backup = await timed('custody', () => custody(player, 1));
  const shop = { program: resolve(values.bridge), data, bridge, backup, ends };
  await timed('returning', () => returning(player, shop));
} catch (error) {
  looks.faults.push(String(error.message));
  await browser
    .contexts()[0]
    ?.pages()[0]
    ?.screenshot({ path: join(looks.folder, 'stopped-here.png') });
} finally {
  await browser.close();
  bridge.stop();
  for (const end of ends) await end();
  await rm(data, { recursive: true, force: true });
}

console.log(
  `${looks.screens} looks at screens, ${looks.targets} targets measured, pictures in ${looks.folder}`,
);
const faults = [...new Set(looks.faults)];
for (const fault of faults) console.log(`FAULT ${fault}`);
process.exitCode = faults.length > 0 || looks.screens === 0 ? 1 : 0;
