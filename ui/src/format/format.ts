import { settings } from '../state/settings.svelte';

const tags = { en: 'en-US', es: 'es-US' };
const dayAndTime = { dateStyle: 'medium', timeStyle: 'short' } as const;

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
  return at.toLocaleString(tags[settings.language], { ...dayAndTime, timeZone: 'UTC' });
}

/** Day and time of a coming moment (RFC 3339), by the phone's own clock. */
export function clockOfDay(moment: string): string {
  const at = new Date(moment);
  if (Number.isNaN(at.getTime())) return moment;
  return at.toLocaleString(tags[settings.language], dayAndTime);
}

/** Day and time of an appointment ("2026-11-30T14:30") in the language's own order; what is no such text stays as written. */
export function appointed(local: string): string {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2})?$/.test(local)) return local;
  return clockOfDay(local);
}

/** Cents as decimal text ("12999") to an amount with the region's sign and the language's own separators. */
export function amount(cents: string): string {
  const value = BigInt(cents);
  const size = value < 0n ? -value : value;
  const whole = new Intl.NumberFormat(tags[settings.language]).format(size / 100n);
  return `${value < 0n ? '−' : ''}${settings.currency}${whole}.${String(size % 100n).padStart(2, '0')}`;
}

/** A share between 0 and 1 as a percentage; the ends never read as certain or impossible. */
export function percent(share: number): string {
  const text = (value: number): string =>
    new Intl.NumberFormat(tags[settings.language], { style: 'percent' }).format(value);
  if (share < 0.01) return `<${text(0.01)}`;
  if (share > 0.99) return `>${text(0.99)}`;
  return text(share);
}

/** Cents as decimal text to the amount as one would type it ("12999" → "129.99"). */
export function typedAmount(cents: string): string {
  const value = BigInt(cents === '' ? '0' : cents);
  const size = value < 0n ? -value : value;
  return `${value < 0n ? '-' : ''}${size / 100n}.${String(size % 100n).padStart(2, '0')}`;
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
