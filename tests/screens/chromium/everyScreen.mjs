// Every screen of a finished job, in both themes and both languages, and once for the left hand.
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
  'invoice',
  'hand-over',
  'papers',
  'forget',
];

/** Looks at all of them; `quick` leaves out all but one combination. */
export async function everyScreen(page, job, looks, quick) {
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
    ...own,
  ];
  const looksOf = quick
    ? [['es', 'dark', 'left']]
    : [
        ['en', 'light', 'right'],
        ['en', 'dark', 'right'],
        ['es', 'light', 'left'],
        ['es', 'dark', 'right'],
      ];
  for (const [language, theme, hand] of looksOf) {
    await dress(page, language, theme, hand);
    for (const { name, hash } of screens) {
      await page.evaluate((to) => (location.hash = to), hash);
      await settled(page);
      await unfold(page);
      await looks.at(page, `${language}-${theme}-${name}`);
    }
  }
}

/** What is folded away is looked at too. */
async function unfold(page) {
  const folds = page.locator('details.card:not([open]) > summary');
  while (await folds.count()) await folds.first().click();
}

/** Chooses language, theme and hand in the settings, as a person would. */
async function dress(page, language, theme, hand) {
  await page.evaluate(() => (location.hash = '#/settings'));
  await settled(page);
  for (const [name, value] of Object.entries({ language, theme, hand })) {
    await page.locator(`[data-name=${name}] [data-value=${value}]`).click();
    await page.waitForFunction(
      ([key, wanted]) =>
        (key === 'language' ? document.documentElement.lang : document.documentElement.dataset[key]) ===
        wanted,
      [name, value],
    );
  }
}
