// Sizes and distances of what a finger touches, by bounding boxes (bars of 48, 72, 96, 108 and 12 CSS pixels).

const SIZES = { desk: 48, vehicle: 72, keep: 96, shutter: 108 };
const GAP = 12;
/** Boxes come as fractions of a pixel. */
const SLACK = 0.6;

/** Every target on the page with its box, seen from the page's own top. Runs inside the page. */
function targetsInPage() {
  // What lies below an open dialog can't be touched.
  const candidates = (document.querySelector('dialog[open]') ?? document).querySelectorAll(
    'a[href], button, select, textarea, summary, input, label[data-use]',
  );
  const seen = [...candidates].filter((element) => {
    const style = getComputedStyle(element);
    const drawn = style.opacity !== '0' && style.visibility !== 'hidden' && style.pointerEvents !== 'none';
    // What is folded away has a box too, but nobody can touch it.
    return (
      drawn &&
      element.checkVisibility() &&
      element.getClientRects().length > 0 &&
      element.getBoundingClientRect().width > 1
    );
  });
  return seen.map((element) => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    const name = element.getAttribute('aria-label') ?? element.textContent.trim().slice(0, 40);
    return {
      what: `${element.tagName.toLowerCase()} "${name || element.getAttribute('name') || ''}"`,
      use: element.dataset.use ?? 'desk',
      inHand: element.closest('section.hand') !== null,
      left,
      right,
      top: top + scrollY,
      bottom: bottom + scrollY,
    };
  });
}

/** Sentences about every target that is too small or too near to another; empty when all is well. */
export async function targetFaults(page) {
  const targets = await page.evaluate(targetsInPage);
  const faults = [...targets.flatMap(tooSmall), ...tooNear(targets), ...(await overflow(page))];
  return { count: targets.length, faults };
}

/** A phone's screen scrolls down, never sideways: only what is made to slide may be wider. */
async function overflow(page) {
  const wide = await page.evaluate(() => {
    const slides = (element) =>
      element !== null &&
      (/auto|scroll/.test(getComputedStyle(element).overflowX) || slides(element.parentElement));
    const beyond = [...document.querySelectorAll('#app *')].filter(
      (element) =>
        element.getBoundingClientRect().right > innerWidth + 1 &&
        !slides(element) &&
        !element.closest('.unseen'),
    );
    return beyond
      .slice(0, 3)
      .map((element) => `${element.tagName.toLowerCase()}.${element.getAttribute('class') ?? ''}`);
  });
  return wide.map((what) => `${what} reaches beyond the right edge`);
}

function tooSmall(target) {
  const least = SIZES[target.use];
  const width = target.right - target.left;
  const height = target.bottom - target.top;
  if (width >= least - SLACK && height >= least - SLACK) return [];
  return [
    `${target.what} is ${width.toFixed(0)} × ${height.toFixed(0)}, used as ${target.use}: ${least} is asked`,
  ];
}

function tooNear(targets) {
  return targets.flatMap((one, place) =>
    targets.slice(place + 1).flatMap((other) => {
      // The hand's zone lies over what scrolls beneath it.
      if (one.inHand !== other.inHand || inside(one, other) || inside(other, one)) return [];
      const apart = distance(one, other);
      return apart >= GAP - SLACK
        ? []
        : [`${one.what} and ${other.what} are ${apart.toFixed(1)} apart: ${GAP} is asked`];
    }),
  );
}

/** Empty space between two boxes; overlapping boxes give a negative number. */
function distance(one, other) {
  const across = Math.max(one.left - other.right, other.left - one.right);
  const down = Math.max(one.top - other.bottom, other.top - one.bottom);
  return Math.max(across, down);
}

function inside(one, other) {
  return (
    one.left >= other.left && one.right <= other.right && one.top >= other.top && one.bottom <= other.bottom
  );
}

/** How far up the highest target of the hand's zone reaches, as a share of the screen's height from below. */
export async function handReach(page) {
  const targets = (await page.evaluate(targetsInPage)).filter((target) => target.inHand);
  const { height, scrolled } = await page.evaluate(() => ({
    height: innerHeight,
    scrolled: scrollY,
  }));
  const tops = targets.map((target) => target.top - scrolled);
  return tops.length === 0 ? 0 : (height - Math.min(...tops)) / height;
}
