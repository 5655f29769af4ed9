// The viewfinder, with a camera that shows a demo picture over and over: shutter, the number that it shows, Keep, undo, and the app ended while the
// camera is open. Chromium plays the camera itself (`--use-fake-device-for-media-stream`).
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { settled } from './look.mjs';
import { Player } from './player.mjs';
import { toValue } from './reading.mjs';

const SIZE = { width: 1280, height: 960 };
/** What the film shows: see `demo-data/photos.json`. */
const SHOWN = '6.74';
/** The most taps from the test on offer to the record, digits aside. */
const MOST = { photo: 5, typed: 4 };

/** `browse` opens a browser with more arguments and gives a page in it. */
export async function camera(browse, folder, script, looks) {
  const place = await mkdtemp(join(tmpdir(), 'testimeter-camera-'));
  try {
    const film = await filmOf(await browse([]), join(folder, 'a-08-control-loaded.jpg'), place);
    const page = await browse([
      '--use-fake-ui-for-media-stream',
      '--use-fake-device-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ]);
    const player = new Player(page, folder, script, looks);
    await page.waitForFunction(() => document.querySelector('[data-name=take-in]') !== null);
    await inEnglish(page);
    const address = page.url();
    const tests = await aJob(player);
    await page.evaluate(countTaps);
    await withPhoto(player, tests[0]);
    await undone(player);
    await typed(player, tests[1]);
    await ended(player, tests[2], address);
    await blocked(player, tests[2]);
  } finally {
    await rm(place, { recursive: true, force: true });
  }
}

/** Whatever language the screens were left in. */
export async function inEnglish(page) {
  await page.evaluate(() => (location.hash = '#/settings'));
  await settled(page);
  await page.locator('[data-name=language] [data-value=en]').click();
  await page.waitForFunction(() => document.documentElement.lang === 'en');
  await page.evaluate(() => (location.hash = '#/'));
  await page.locator('[data-name=take-in]').waitFor();
}

/** A film of one picture: raw frames in 4:2:0 behind the header of YUV4MPEG2. The browser itself takes the JPEG apart. */
export async function filmOf(page, picture, place) {
  const jpeg = (await readFile(picture)).toString('base64');
  const frame = Buffer.from(await page.evaluate(planes, { jpeg, ...SIZE }), 'base64');
  const head = Buffer.from(`YUV4MPEG2 W${SIZE.width} H${SIZE.height} F10:1 Ip A1:1 C420jpeg\n`);
  const film = join(place, 'camera.y4m');
  await writeFile(
    film,
    Buffer.concat([
      head,
      ...Array(3)
        .fill([Buffer.from('FRAME\n'), frame])
        .flat(),
    ]),
  );
  return film;
}

/** A picture as three planes (ITU-R BT.601, full range), in base64. Runs inside the page. */
async function planes({ jpeg, width, height }) {
  const image = new Image();
  image.src = `data:image/jpeg;base64,${jpeg}`;
  await image.decode();
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  const pen = canvas.getContext('2d');
  pen.drawImage(image, 0, 0, width, height);
  const { data } = pen.getImageData(0, 0, width, height);
  const area = width * height;
  const out = new Uint8Array(area * 1.5);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const at = (y * width + x) * 4;
      const [r, g, b] = [data[at], data[at + 1], data[at + 2]];
      out[y * width + x] = 0.299 * r + 0.587 * g + 0.114 * b;
      if (x % 2 || y % 2) continue;
      const half = (y / 2) * (width / 2) + x / 2;
      out[area + half] = 128 - 0.168736 * r - 0.331264 * g + 0.5 * b;
      out[area * 1.25 + half] = 128 + 0.5 * r - 0.418688 * g - 0.081312 * b;
    }
  }
  let text = '';
  for (let at = 0; at < out.length; at += 8192) text += String.fromCharCode(...out.subarray(at, at + 8192));
  return btoa(text);
}

/** A job with meter and circuit; gives three of its tests in volts whose cautions are read. */
export async function aJob(player) {
  await player.open();
  await player.goTo('intake');
  await player.fill('complaint', 'The fan never runs.');
  await player.meter_choose({
    name: 'camera meter',
    volts_input_megohms: '10',
    low_impedance_kilohms: '',
    accuracy_percent: '0.5',
    accuracy_counts: '2',
  });
  await player.goTo('circuit');
  await player.page.locator('[data-name=circuit] [data-value=relay_high_side]').click();
  await player.page.locator('svg[role=img]').first().waitFor();
  const view = await jobView(player);
  const tests = view.circuit.tests
    .filter((test) => test.mode === 'volts_dc' && test.compares === 'value' && !test.condition)
    .map((test) => test.id)
    .slice(0, 3);
  for (const test of tests) {
    await player.goTo(`reading/${test}`);
    for (const read = player.page.locator('[data-name=caution-read]'); await read.count();) {
      await player.page.waitForTimeout(500);
      await read.click();
      await settled(player.page);
    }
  }
  return tests;
}

/** Taps that a finger made, digits and the unit aside. Runs inside the page. */
export function countTaps() {
  window.taps = 0;
  addEventListener(
    'click',
    (event) => {
      if (event.isTrusted && !event.target.closest('[data-key], [data-name=unit]')) window.taps += 1;
    },
    true,
  );
}

/** Goes to where the test is on offer, then taps it: the first tap of a reading. */
export async function take(player, test) {
  await player.goTo('reasoning');
  await player.page.evaluate(() => (window.taps = 0));
  // Not every test is on offer at once; a link to it stands in for the offer.
  await player.page.evaluate(
    (hash) => {
      const link = Object.assign(document.createElement('a'), { href: hash, id: 'on-offer' });
      link.textContent = 'test';
      link.style = 'position:fixed;inset:40% 0 auto;height:72px;z-index:9';
      document.body.append(link);
    },
    `#/job/${encodeURIComponent(player.job)}/reading/${test}`,
  );
  await player.page.locator('#on-offer').click();
  await player.page.evaluate(() => document.querySelector('#on-offer').remove());
}

async function withPhoto(player, test) {
  const { page } = player;
  const before = Date.now();
  await take(player, test);
  await live(player);
  console.log(`from the tap to the viewfinder: ${Date.now() - before} ms`);
  await player.once('viewfinder');
  const shot = Date.now();
  await player.press('shutter');
  await page.locator('main.enter').waitFor();
  console.log(`from the shutter to the value's screen, photo on disk: ${Date.now() - shot} ms`);
  await page.waitForFunction(() => document.querySelector('.seen img')?.naturalWidth > 0);
  await says(player, 'Enter the value first');
  await player.once('capture-value');
  await offered(player);
  await player.once('capture-offered');
  await player.press('take-seen');
  await says(player, 'First say what it does right now');
  await player.pick('complaint', 'yes');
  await says(player, `Keep ${SHOWN} V`);
  await inOrder(player);
  await player.once('capture-ready');
  await player.press('keep-reading');
  await page.locator('[data-name=reading-kept]').waitFor();
  await counted(player, 'photo');
  await player.once('capture-kept');
  const view = await jobView(player);
  const photo = view.readings.at(-1).photos[0];
  const wanted = { live: true, width: SIZE.width, height: SIZE.height, media_type: 'image/jpeg' };
  for (const [field, value] of Object.entries(wanted))
    if (photo[field] !== value) throw new Error(`the live frame's ${field} is ${photo[field]}, not ${value}`);
  if (photo.doubts.length > 0) throw new Error(`a live frame is doubted: ${photo.doubts.join(', ')}`);
  const { seen } = view.readings.at(-1);
  if (seen?.decision !== 'taken' || seen.value !== SHOWN)
    throw new Error(`the record says of the photo's number ${JSON.stringify(seen)}`);
}

/** The number that the photo shows is offered beside the empty field. */
async function offered({ page }) {
  const take = page.locator('[data-name=take-seen][data-says=shows]');
  await take.waitFor();
  const text = (await take.innerText()).trim().replaceAll('\n', ' ');
  if (text !== `The photo shows ${SHOWN} Take ${SHOWN} V`)
    throw new Error(`the photo's number says "${text}"`);
}

/** What is typed against the photo is asked about once: changed, then kept all the same. */
async function against(player) {
  const { page } = player;
  const typed = async () => {
    while (await page.locator('[name=value]').inputValue()) await page.locator('[data-key=erase]').click();
    for (const key of '67.4') await page.locator(`[data-key="${key}"]`).click();
    await player.press('keep-reading');
    await page.locator('[data-name=against-photo]').waitFor();
  };
  await typed();
  await player.once('capture-against');
  await player.press('change-value');
  await offered(player);
  await typed();
  await player.press('keep-against');
  await page.locator('[data-name=reading-kept]').waitFor();
  const { seen } = (await jobView(player)).readings.at(-1);
  if (!seen?.kept_against || seen.decision !== 'corrected')
    throw new Error(`kept against its photo, the record says ${JSON.stringify(seen)}`);
  await player.press('undo-reading');
  await page.locator('[data-name=reading-undone]').waitFor();
  await settled(page);
  while (await page.locator('[name=value]').inputValue()) await page.locator('[data-key=erase]').click();
  await offered(player);
  await player.press('take-seen');
}

/** Taken back: it counts no longer, and what was entered stands there again. */
async function undone(player) {
  const { page } = player;
  await player.press('undo-reading');
  await page.locator('[data-name=reading-undone]').waitFor();
  await settled(page);
  const value = await page.locator('[name=value]').inputValue();
  const view = await jobView(player);
  if (value !== SHOWN || view.readings_counted !== 0 || !view.readings.at(-1).withdrawn)
    throw new Error(`after undo ${view.readings_counted} readings count, and the field reads "${value}"`);
  await player.once('capture-undone');
  await against(player);
  await player.press('keep-reading');
  await page.locator('[data-name=reading-kept]').waitFor();
  await player.press('next-reading');
  await page.locator('[data-name=viewfinder], [data-name=caution-read]').first().waitFor();
}

async function typed(player, test) {
  const { page } = player;
  await take(player, test);
  await live(player);
  await player.press('without-photo');
  for (const key of '0.31') await page.locator(`[data-key="${key}"]`).click();
  await player.pick('complaint', 'no');
  await player.press('keep-reading');
  await page.locator('[data-name=reading-kept]').waitFor();
  await counted(player, 'typed');
}

/** The system ends the app while the camera is open: it comes back to the camera, for the same test. */
async function ended(player, test, address) {
  const { page } = player;
  await take(player, test);
  await live(player);
  await page.goto('about:blank');
  await page.goto(address);
  await page.waitForFunction((id) => location.hash.endsWith(`/reading/${id}`), test);
  await live(player);
  await player.press('without-photo');
  await page.locator('main.enter').waitFor();
  await page.goto('about:blank');
  await page.goto(address);
  await settled(page);
  if ((await page.evaluate(() => location.hash)).includes('reading'))
    throw new Error('the app comes back to a camera that was put away');
}

/** Blocked, in words and with the way on. */
async function blocked(player, test) {
  const { page } = player;
  await page.evaluate(() => {
    navigator.mediaDevices.getUserMedia = () =>
      Promise.reject(new DOMException('Permission denied', 'NotAllowedError'));
  });
  await player.goTo(`reading/${test}`);
  await page.locator('[data-name=viewfinder][data-state=denied]').waitFor();
  await player.once('viewfinder-denied');
  await player.upload('reading', ['a-06-battery-volts.jpg']);
  await page.locator('main.enter').waitFor();
  await toValue(player);
}

async function live({ page }) {
  await page.locator('[data-name=viewfinder][data-state=live]').waitFor();
  await page.waitForFunction(() => document.querySelector('video')?.videoWidth > 0);
}

async function says({ page }, wanted) {
  const text = (await page.locator('[data-name=keep-reading]').innerText()).trim();
  if (text !== wanted) throw new Error(`Keep says "${text}", not "${wanted}"`);
}

/** Photo, value, keypad, answers, Keep: each whole on the screen, none over another. */
async function inOrder({ page }) {
  const parts = [
    '.seen img',
    '[name=value]',
    '[data-key="7"]',
    '[data-name=complaint]',
    '[data-name=keep-reading]',
  ];
  const boxes = await page.evaluate(
    (all) => all.map((one) => document.querySelector(one).getBoundingClientRect().toJSON()),
    parts,
  );
  const high = page.viewportSize().height;
  const wrong = boxes.filter(
    (box, place) => box.top < (boxes[place - 1]?.bottom ?? 0) - 1 || box.bottom > high,
  );
  if (wrong.length > 0) throw new Error(`on the reading's screen ${JSON.stringify(wrong)} lie over others`);
}

async function counted(player, way) {
  const taps = await player.page.evaluate(() => window.taps);
  console.log(`taps for a reading, ${way}: ${taps} (at most ${MOST[way]})`);
  if (taps > MOST[way]) throw new Error(`a reading (${way}) takes ${taps} taps`);
}

/** The job as the core has it. */
async function jobView({ page, job }) {
  return page.evaluate((id) => window.__TAURI_INTERNALS__.invoke('job_view', { job: id }), job);
}
