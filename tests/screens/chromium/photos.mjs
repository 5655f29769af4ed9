// Photos of a finished job: opened at full size, zoomed with two fingers, turned over, closed with Back; then one is marked.
import { settled } from './look.mjs';

/** Looks at the grid, the viewer and the marks of a job, and throws when the viewer doesn't do what a hand asks of it. */
export async function photos(page, job, looks) {
  const start = `#/job/${encodeURIComponent(job)}/photos`;
  await page.evaluate((to) => (location.hash = to), start);
  await page.locator('[data-name=photo-cell]').first().waitFor();
  await page.evaluate(() => scrollTo(0, 200));
  const place = await page.evaluate(() => scrollY);
  const opener = page.locator('[data-name=photos-readings] [data-name=photo-open]').first();
  await open(page, opener);
  await looks.at(page, 'viewer');
  await zoom(page);
  await turn(page);
  await page.goBack();
  await page.locator('[data-name=viewer]').waitFor({ state: 'detached' });
  await mustBe('the place below', () => page.evaluate(() => scrollY), place);
  await mustBe(
    'what has the focus',
    () => page.evaluate(() => document.activeElement.dataset.name),
    'photo-open',
  );
  await mark(page, opener, looks);
  await pair(page, job, looks);
}

async function open(page, opener) {
  await opener.click();
  await page.locator('[data-name=viewer] img').first().waitFor();
  await settled(page);
}

/** Two fingers apart: larger, and the original's own pixels come. Two quick taps: whole again. */
async function zoom(page) {
  const { x, y, width, height } = await page.locator('[data-name=zoom]').boundingBox();
  const [across, along] = [x + width / 2, y + height / 2];
  const touch = await page.context().newCDPSession(page);
  const fingers = (type, apart) =>
    touch.send('Input.dispatchTouchEvent', {
      type,
      touchPoints:
        apart === null
          ? []
          : [
              { x: across - apart, y: along, id: 1 },
              { x: across + apart, y: along, id: 2 },
            ],
    });
  await fingers('touchStart', 30);
  for (let apart = 40; apart <= 120; apart += 10) await fingers('touchMove', apart);
  await fingers('touchEnd', null);
  const scale = () => page.locator('[data-name=zoom]').evaluate((surface) => Number(surface.dataset.scale));
  if ((await scale()) < 3) throw new Error(`two fingers enlarged the photo to ${await scale()} only`);
  await page.locator('[data-name=zoom][data-whole=true]').waitFor();
  for (let tap = 0; tap < 2; tap += 1) await page.touchscreen.tap(across, along);
  await mustBe('the scale after two taps', scale, 1);
}

async function turn(page) {
  const place = () => page.locator('[data-name=viewer-place]').textContent();
  const before = await place();
  await page.keyboard.press('ArrowRight');
  if ((await place()) === before) throw new Error('the arrow key turned nothing over');
  await page.keyboard.press('ArrowLeft');
  await mustBe('the photo', place, before);
}

async function mark(page, opener, looks) {
  await open(page, opener);
  await page.locator('[data-name=viewer-mark]').click();
  await page.locator('[data-name=zoom] img').first().waitFor();
  await settled(page);
  const { x, y, width, height } = await page.locator('[data-name=zoom]').boundingBox();
  await page.mouse.move(x + width * 0.8, y + height * 0.8);
  await page.mouse.down();
  await page.mouse.move(x + width * 0.6, y + height * 0.6);
  await page.mouse.move(x + width * 0.5, y + height * 0.5);
  await page.mouse.up();
  await page.locator('[data-name=mark-tool] [data-value=text]').click();
  await page.mouse.click(x + width * 0.1, y + height * 0.1);
  await page.locator('[name=mark-text]').fill('<i>chafed</i>');
  await looks.at(page, 'marks');
  await page.locator('[data-name=keep-marks]').click();
  await page.locator('[data-name=marked]').waitFor();
  await mustBe('the marks', () => page.locator('[data-name=marks] g').count(), 2);
}

async function pair(page, job, looks) {
  await page.evaluate((to) => (location.hash = to), `#/job/${encodeURIComponent(job)}/proof`);
  await open(page, page.locator('[data-name=proof-compare]').first());
  await mustBe('the photos side by side on a phone', () => page.locator('[data-name=zoom]').count(), 1);
  const phone = page.viewportSize();
  await page.setViewportSize({ width: 1100, height: 800 });
  await page.locator('[data-pair=true]').waitFor();
  await mustBe('the photos side by side', () => page.locator('[data-name=zoom]').count(), 2);
  await looks.at(page, 'viewer-pair');
  await page.setViewportSize(phone);
  await page.keyboard.press('Escape');
  await page.locator('[data-name=viewer]').waitFor({ state: 'detached' });
}

/** Waits a little, because the page follows a moment later. */
async function mustBe(what, ask, wanted) {
  for (let round = 0; round < 20; round += 1) {
    if ((await ask()) === wanted) return;
    await new Promise((passed) => setTimeout(passed, 50));
  }
  throw new Error(`${what}: ${await ask()} instead of ${wanted}`);
}
