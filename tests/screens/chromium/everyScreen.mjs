// Every screen of a finished job: in both themes and languages, for either hand, on a small phone, one that lies, a desk, and with
// text twice as large.
import { settled } from './look.mjs';

const STATIONS = [
  '',
  'intake',
  'circuit',
  'pins',
  'reading',
  'readings',
  'photos',
  'reasoning',
  'finding',
  'estimate',
  'approval',
  'part',
  'programming',
  'proof',
  'suppliers',
  'invoice',
  'payments',
  'hand-over',
  'papers',
  'forget',
];

const PHONE = { width: 390, height: 844 };
const SMALL = { width: 360, height: 740 };
const LYING = { width: 844, height: 390 };
const DESK = { width: 1280, height: 800 };

/** Language, theme, hand, size of text in percent, size of the screen: each demo job takes its part of them. */
const LOOKS = {
  1: [
    ['en', 'light', 'right', 100, PHONE],
    ['en', 'dark', 'right', 100, PHONE],
    ['es', 'light', 'left', 100, PHONE],
    ['es', 'dark', 'right', 100, PHONE],
  ],
  2: [
    ['en', 'light', 'left', 100, SMALL],
    ['es', 'dark', 'right', 100, SMALL],
    ['es', 'light', 'right', 100, DESK],
    ['en', 'dark', 'left', 100, DESK],
  ],
  3: [
    ['en', 'light', 'right', 200, PHONE],
    ['es', 'dark', 'left', 200, PHONE],
    ['es', 'light', 'right', 100, LYING],
    ['en', 'dark', 'left', 100, LYING],
  ],
};

/** Looks at all of them, with the looks of this number; `quick` leaves out all but one. */
export async function everyScreen(page, job, looks, { number, quick }) {
  const own = STATIONS.map((station) => ({
    name: station || 'timeline',
    hash: `#/job/${encodeURIComponent(job)}/${station}`,
  }));
  const screens = [
    { name: 'jobs', hash: '#/' },
    { name: 'settings', hash: '#/settings' },
    { name: 'shop', hash: '#/shop' },
    { name: 'device', hash: '#/device' },
    { name: 'own-circuits', hash: '#/circuits/list' },
    { name: 'own-circuit', hash: '#/circuits/edit' },
    { name: 'blocks', hash: `#/circuits/blocks/${encodeURIComponent(job)}` },
    { name: 'time', hash: '#/time' },
    { name: 'copies', hash: '#/copies' },
    { name: 'programming-numbers', hash: '#/programming' },
    { name: 'tool', hash: '#/tool' },
    { name: 'year', hash: '#/year' },
    ...own,
  ];
  const all = LOOKS[number] ?? LOOKS[1];
  for (const [language, theme, hand, text, size] of quick ? all.slice(-1) : all) {
    await page.setViewportSize(size);
    await dress(page, { language, theme, hand, text: String(text) });
    for (const { name, hash } of screens) {
      await page.evaluate((to) => (location.hash = to), hash);
      await settled(page);
      await unfold(page);
      await looks.at(page, `${language}-${theme}-${size.width}x${size.height}-${text}-${name}`);
    }
  }
  await page.setViewportSize(PHONE);
  await dress(page, { text: '100', language: 'en' });
}

/** What is folded away is looked at too. */
async function unfold(page) {
  const folds = page.locator('details.card:not([open]) > summary');
  while (await folds.count()) await folds.first().click();
}

/** Chooses language, theme, hand and size of text in the settings, as a person would. */
async function dress(page, choices) {
  await page.evaluate(() => (location.hash = '#/settings'));
  await settled(page);
  for (const [name, value] of Object.entries(choices)) {
    await page.locator(`[data-name=${name}] [data-value="${value}"]`).click();
    await page.waitForFunction(
      ([key, wanted]) =>
        (key === 'language' ? document.documentElement.lang : document.documentElement.dataset[key]) ===
        wanted,
      [name, value],
    );
  }
}
