import type { LocaleView } from '../bindings/LocaleView';
import { settings } from '../state/settings.svelte';

const tags = { en: 'en-US', es: 'es-US' };
/** Where a day is written in the language, in the order of the shop's region. */
const days = {
  en: { month_day_year: 'en-US', day_month_year: 'en-GB', year_month_day: 'en-CA' },
  es: { month_day_year: 'es-US', day_month_year: 'es-ES', year_month_day: 'es-US' },
};

/** The day as the region orders it, the clock as the language shows it. */
function dayAndTime(at: Date, zone: { timeZone?: string } = {}): string {
  const { language, locale } = settings;
  const day = at.toLocaleDateString(days[language][locale.date_order], { dateStyle: 'medium', ...zone });
  return `${day}, ${at.toLocaleTimeString(tags[language], { timeStyle: 'short', ...zone })}`;
}

/** Time of day of a moment in milliseconds, as the phone's own clock shows it: "9:14 AM". */
export function clock(at: number): string {
  return new Date(at).toLocaleTimeString(tags[settings.language], { hour: 'numeric', minute: '2-digit' });
}

/** Day and time of a sealed moment (RFC 3339), shown in the offset it was sealed with, not the reader's. */
export function sealed(wall: string): string {
  const local = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/.exec(wall)?.[0];
  // Read as if it were UTC and shown in UTC: the clock on the wall where it was sealed.
  const at = new Date(`${local ?? ''}Z`);
  if (local === undefined || Number.isNaN(at.getTime())) return wall;
  return dayAndTime(at, { timeZone: 'UTC' });
}

/** Day and time of a coming moment (RFC 3339), by the phone's own clock. */
export function clockOfDay(moment: string): string {
  const at = new Date(moment);
  if (Number.isNaN(at.getTime())) return moment;
  return dayAndTime(at);
}

/** Day and time of an appointment ("2026-11-30T14:30") in the language's own order; what is no such text stays as written. */
export function appointed(local: string): string {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?$/.test(local)) return local;
  return clockOfDay(local);
}

/** A day ("2026-11-30") in the order of the shop's region; what is no such text stays as written. */
export function dayOf(text: string): string {
  const at = new Date(`${text}T00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text) || Number.isNaN(at.getTime())) return text;
  const { language, locale } = settings;
  return at.toLocaleDateString(days[language][locale.date_order], { dateStyle: 'medium', timeZone: 'UTC' });
}

/** Cents as decimal text ("12999") to an amount as the shop's region writes it: "$129.99", "129,99 €". */
export function amount(cents: string, locale: LocaleView = settings.locale): string {
  const value = BigInt(cents);
  const size = value < 0n ? -value : value;
  const { sign, sign_place, decimal, group } = locale;
  const whole = String(size / 100n).replace(/\B(?=(\d{3})+$)/g, group);
  const digits = `${whole}${decimal}${String(size % 100n).padStart(2, '0')}`;
  const behind = sign === '' ? '' : `\u00a0${sign}`;
  return `${value < 0n ? '−' : ''}${sign_place === 'after' ? `${digits}${behind}` : `${sign}${digits}`}`;
}

/** A share between 0 and 1 as a percentage; the ends never read as certain or impossible. */
export function percent(share: number): string {
  const text = (value: number): string =>
    new Intl.NumberFormat(tags[settings.language], { style: 'percent' }).format(value);
  if (share < 0.01) return `<${text(0.01)}`;
  if (share > 0.99) return `>${text(0.99)}`;
  return text(share);
}

/** Cents as decimal text to the amount as one would type it in the shop's region ("12999" → "129.99", "129,99"). */
export function typedAmount(cents: string): string {
  const value = BigInt(cents === '' ? '0' : cents);
  const size = value < 0n ? -value : value;
  return `${value < 0n ? '-' : ''}${size / 100n}${settings.locale.decimal}${String(size % 100n).padStart(2, '0')}`;
}

/** Hundred-thousandths to percent as one would type it (7250 → "7.25"). */
export function percentOfRate(rate: number): string {
  return String(rate / 1000);
}

/** Bytes as decimal text to kilobytes, rounded up. */
export function kilobytes(bytes: string): string {
  return String((BigInt(bytes) + 999n) / 1000n);
}

/** A number as an instrument would show it: up to three decimals, a true minus sign. */
export function shortNumber(value: number): string {
  const digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  const text = value
    .toFixed(digits)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');
  return (text === '-0' ? '0' : text).replace('-', '−');
}

/** Ohms with the fitting prefix. */
export function ohms(value: number): string {
  if (value >= 1e6) return `${shortNumber(value / 1e6)} MΩ`;
  if (value >= 1e3) return `${shortNumber(value / 1e3)} kΩ`;
  return `${shortNumber(value)} Ω`;
}

/** How many times, as one would say it: "2.4", "24", "1,200", "over 1,000,000" as a bare number. */
export function times(value: number): string {
  const digits = value < 10 ? 1 : 0;
  const text = new Intl.NumberFormat(tags[settings.language], { maximumFractionDigits: digits }).format(
    value,
  );
  return value >= 1e6 ? `>${text}` : text;
}

/** A value in a base unit of the engine, with the fitting prefix for ohms. */
export function inUnit(value: number, unit: string): string {
  if (unit === 'ohm') return ohms(value);
  return `${shortNumber(value)} ${unit === 'percent' ? '%' : unit}`.trim();
}
