// A job without a finger: every press is the Tab key, the arrow keys, Enter and the space bar, from check-in to delivery. Photos come
// through the system's own dialog, which no page can steer.
import { Player } from './player.mjs';

/** More focus stops than any screen has. */
const MOST_STOPS = 300;

/** Plays a job of its own, made of the script's steps, by keyboard alone. */
export async function byKeyboard(page, folder, script, looks) {
  const player = new Player(withKeys(page), folder, script, looks);
  // Each screen is looked at elsewhere.
  player.once = async () => {};
  await page.evaluate(() => (location.hash = '#/'));
  await player.page.locator('[data-name=take-in]').waitFor();
  await player.open();
  let readings = 0;
  for (const step of chosen(script)) {
    if (step.do === 'proof_keep') step.with = { ...step.with, before: '#2', after: `#${readings}` };
    if (step.do === 'approval_keep') step.with = { ...step.with, channel: 'text_message' };
    await player.play(step).catch((error) => {
      throw new Error(`by keyboard, ${step.do}: ${error.message}`, { cause: error });
    });
    if (step.do === 'reading_keep') readings += 1;
  }
  await player.stage('handed_over');
  console.log(`a whole job by keyboard: ${readings} readings, ${stops} stops of the focus`);
}

/** The steps that a job can't do without, two readings before the repair and one after it. */
function chosen(script) {
  const all = script.steps.filter((step) => !step.refused).map((step) => structuredClone(step));
  const of = (name) => all.filter((step) => step.do === name);
  const loaded = of('reading_keep').filter(({ with: entry }) => entry.test === 'control_loaded');
  const first = of('reading_keep').find(({ with: entry }) => entry.unit === 'yes_no');
  const unproven = { do: 'finding_keep', with: { cause: '', words: 'The control wire is next.' } };
  return [
    ...of('intake_keep'),
    ...of('meter_choose').slice(0, 1),
    ...of('circuit_choose').slice(0, 1),
    first,
    loaded[0],
    unproven,
    ...of('estimate_keep').slice(-1),
    ...of('approval_keep').slice(-1),
    loaded.at(-1),
    of('proof_keep')[0],
    ...of('invoice_keep').slice(-1),
    ...of('hand_over'),
  ];
}

let stops = 0;

/** A page whose locators are pressed and filled through the keyboard; all else is as it was. */
function withKeys(page) {
  const keys = page.keyboard;
  const pressed = (locator) => ({
    async click() {
      await locator.waitFor();
      const kind = await reach(page, locator);
      if (kind !== 'chosen') await keys.press(kind === 'box' ? 'Space' : 'Enter');
    },
    async dblclick() {
      await this.click();
      await keys.press('Enter');
    },
    async fill(value) {
      const type = await locator.getAttribute('type');
      await reach(page, locator);
      if (type === 'datetime-local') return locator.fill(value);
      await keys.press('ControlOrMeta+A');
      if (value === '') return keys.press('Delete');
      return keys.insertText(value);
    },
    blur: () => keys.press('Tab'),
  });
  const wrapped = (locator) => {
    const own = pressed(locator);
    return new Proxy(locator, {
      get(target, name) {
        if (name in own) return own[name];
        const value = target[name];
        if (typeof value !== 'function') return value;
        if (!['first', 'last', 'nth', 'locator', 'filter'].includes(name)) return value.bind(target);
        return (...given) => wrapped(value.apply(target, given));
      },
    });
  };
  return new Proxy(page, {
    get(target, name) {
      if (name === 'locator') return (...given) => wrapped(target.locator(...given));
      const value = target[name];
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

/** Moves the focus to it as a keyboard does; says what it is, or that the arrow keys chose it on the way. */
async function reach(page, locator) {
  for (let stop = 0; stop < MOST_STOPS; stop += 1) {
    const found = await locator.evaluate((element) => {
      const own = 'a, button, input, select, textarea, summary';
      const target = element.matches(own) ? element : element.querySelector(own);
      const now = document.activeElement;
      const radio = target?.type === 'radio';
      if (now === target)
        return radio && target.checked ? 'chosen' : /radio|checkbox/.test(target.type) ? 'box' : 'press';
      return radio && now?.type === 'radio' && now.name === target.name ? 'in its group' : 'elsewhere';
    });
    if (found !== 'elsewhere' && found !== 'in its group') return found;
    await page.keyboard.press(found === 'elsewhere' ? 'Tab' : 'ArrowDown');
    stops += 1;
  }
  throw new Error(`the keyboard never comes to ${locator}`);
}
