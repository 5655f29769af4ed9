import { readdirSync, readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import type { LocaleView } from '../bindings/LocaleView';
import { settings, usualLocale } from '../state/settings.svelte';
import { amount, sealed, typedAmount } from './format';

/** Each region's file against the browser's own tables (Unicode CLDR through Intl). */
const folder = `${import.meta.dirname}/../../../src-tauri/crates/job/rules`;
const tags: Record<string, string> = {
  'US-CA': 'en-US',
  'US-NY': 'en-US',
  'US-FL': 'en-US',
  'CA-ON': 'en-CA',
  GB: 'en-GB',
  ES: 'es-ES',
  MX: 'es-MX',
};

type RegionFile = { region: string; currency: string; locale: LocaleView };

const regions = readdirSync(folder)
  .map((file) => JSON.parse(readFileSync(`${folder}/${file}`, 'utf8')) as RegionFile)
  .filter((rules) => rules.region in tags);

afterEach(() => (settings.locale = usualLocale));

describe.each(regions.map((rules) => [rules.region, rules] as const))('%s', (region, rules) => {
  it('writes amounts as Intl does', () => {
    settings.locale = rules.locale;
    // Spanish leaves four digits ungrouped unless asked: the bill groups them always.
    const options: object = {
      style: 'currency',
      currency: rules.currency,
      currencyDisplay: 'narrowSymbol',
      useGrouping: 'always',
    };
    const written = new Intl.NumberFormat(tags[region], options as Intl.NumberFormatOptions);
    expect(amount('123450')).toBe(written.format(1234.5));
    expect(amount('123456789')).toBe(written.format(1234567.89));
    expect(amount('5')).toBe(written.format(0.05));
    expect(amount('-1250')).toBe(written.format(-12.5).replace('-', '−'));
  });

  it('orders the digits of a date as Intl does', () => {
    const parts = new Intl.DateTimeFormat(tags[region], { dateStyle: 'short' }).formatToParts();
    const order = parts.map((part) => part.type).filter((type) => type !== 'literal');
    expect(order.join('_')).toBe(rules.locale.date_order);
  });
});

it('types an amount again with the mark of the region', () => {
  settings.locale = { ...usualLocale, decimal: ',', group: '.' };
  expect(typedAmount('123450')).toBe('1234,50');
});

it('writes a day in the order of the region, with the clock of the language', () => {
  const day = (date_order: LocaleView['date_order']): string => {
    settings.locale = { ...usualLocale, date_order };
    return sealed('2026-03-04T16:05:06Z').replace(/[\u00a0\u202f]/g, ' ');
  };
  expect(day('month_day_year')).toBe('Mar 4, 2026, 4:05 PM');
  expect(day('day_month_year')).toBe('4 Mar 2026, 4:05 PM');
});
