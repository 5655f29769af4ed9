// The circuit as it is measured: every one of the library legible on a phone, a tapped point takes a lead, and nothing of it
// is lost when the page is made anew.
import { settled } from './look.mjs';

const DRAWING = '[data-name=bench-drawing]';
/** Smallest letters on a phone, px. */
const LEAST_TEXT = 15;
/** Highest drawing that a bench is lived on without scrolling inside it, px; the largest circuits need more. */
const USUAL_HEIGHT = 420;

/** On a job with a circuit and without readings. */
export async function onTheBench(player) {
  const { page } = player;
  await player.goTo('reasoning');
  await page.locator(DRAWING).waitFor();
  for (const position of await page.locator('[data-name=bench-switch] label').all()) {
    await position.click();
    await settled(page);
  }
  await leadPlaced(player);
  await page.reload();
  await page.locator(DRAWING).waitFor();
}

/** A tap beside a point finds it; the lead that is put there is in the reading's form. */
async function leadPlaced(player) {
  const { page } = player;
  const ring = page.locator(`${DRAWING} .ring, ${DRAWING} .eye`).first();
  const box = await ring.boundingBox();
  await page.mouse.click(box.x + box.width / 2 + 6, box.y + box.height / 2 - 6);
  await page.locator('[data-name=bench-point]').waitFor();
  await player.once('bench-point');
  const point = await page.locator('[data-name=bench-point] h2').textContent();
  await page.locator('[data-name=red-here]').click();
  await settled(page);
  if (!page.url().includes('leads~')) throw new Error(`"Red here" led to ${page.url()}`);
  if ((await page.locator('[data-name=without-photo]').count()) > 0)
    await page.locator('[data-name=without-photo]').click();
  await settled(page);
  const form = await page.locator('#app').textContent();
  if (!form.includes(point.trim())) throw new Error(`the form doesn't know the lead at ${point}`);
  await player.goTo('reasoning');
}

/** Every circuit of the library, chosen one after the other; pictures to look at, letters and heights measured. */
export async function everyCircuit(player) {
  const { page, looks } = player;
  await player.goTo('circuit');
  await page.locator('[data-name=circuit] [data-value]').first().waitFor();
  const names = await page
    .locator('[data-name=circuit] [data-value]')
    .evaluateAll((all) => all.map((one) => one.dataset.value));
  const tall = [];
  for (const [i, name] of names.entries()) {
    await player.goTo('circuit');
    await page.locator(`[data-name=circuit] [data-value="${name}"]`).click();
    await page.locator(`[data-name=circuit] .picked[data-value="${name}"]`).waitFor();
    await settled(page);
    await player.goTo('reasoning');
    await page.locator(DRAWING).waitFor();
    await settled(page);
    const { text, height } = await measured(page);
    if (text < LEAST_TEXT - 0.1) looks.faults.push(`${name}: letters of ${text} px in the drawing`);
    if (height > USUAL_HEIGHT) tall.push(`${name} ${Math.round(height)}`);
    await page.screenshot({ path: `${looks.folder}/circuit-${String(i).padStart(2, '0')}.png` });
  }
  console.log(
    `${names.length} circuits drawn on the bench; higher than ${USUAL_HEIGHT} px: ${tall.join(', ') || 'none'}`,
  );
}

/** The smallest letters in the drawing and its height, in px of the screen. */
function measured(page) {
  return page.locator(DRAWING).evaluate((drawing) => {
    const box = drawing.getBoundingClientRect();
    const scale = box.width / drawing.viewBox.baseVal.width;
    const sizes = [...drawing.querySelectorAll('text')].map((text) =>
      parseFloat(getComputedStyle(text).fontSize),
    );
    return { text: Math.min(Infinity, ...sizes) * scale, height: box.height };
  });
}
