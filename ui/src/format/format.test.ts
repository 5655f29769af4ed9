import { describe, expect, it } from 'vitest';
import {
  amount,
  appointed,
  clock,
  clockOfDay,
  kilobytes,
  ohms,
  percent,
  percentOfRate,
  sealed,
  shortNumber,
  typedAmount,
} from './format';
import { settings } from '../state/settings.svelte';

/** The space before the half of the day breaks or not, by the browser's version. */
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, ' ');

describe('amounts', () => {
  it.each([
    ['0', '$0.00'],
    ['5', '$0.05'],
    ['12999', '$129.99'],
    ['-1250', '−$12.50'],
    ['123456789012345678', '$1,234,567,890,123,456.78'],
  ])('%s cents read %s', (cents, text) => expect(amount(cents)).toBe(text));

  it.each([
    ['12999', '129.99'],
    ['5', '0.05'],
    ['-1250', '-12.50'],
    ['-5', '-0.05'],
    ['', '0.00'],
  ])('%s cents are typed again as %s', (cents, text) => expect(typedAmount(cents)).toBe(text));
});

describe('measures', () => {
  it.each([
    [12.4, '12.4'],
    [4, '4'],
    [0.012, '0.012'],
    [-0.0001, '0'],
    [-3.25, '−3.25'],
    [153, '153'],
  ])('%d reads %s', (value, text) => expect(shortNumber(value)).toBe(text));

  it('gives ohms the fitting prefix', () => {
    expect([ohms(75), ohms(1500), ohms(2e7)]).toEqual(['75 Ω', '1.5 kΩ', '20 MΩ']);
  });

  it('never lets a likelihood read as certain or impossible', () => {
    expect([percent(0.996), percent(0.004), percent(0.5)]).toEqual(['>99%', '<1%', '50%']);
    // A finding keeps six digits: what rounds to 1 or 0 there is no more certain for it.
    expect([percent(1), percent(0)]).toEqual(['>99%', '<1%']);
  });

  it('shows time in the offset it was sealed with', () => {
    expect(plain(sealed('2026-03-04T16:05:06.789-08:00'))).toBe('Mar 4, 2026, 4:05 PM');
    expect(sealed('no time')).toBe('no time');
    expect(sealed('2026-13-45T99:99')).toBe('2026-13-45T99:99');
  });

  it('shows the clock as the language does, the same way everywhere', () => {
    const morning = new Date(2026, 6, 3, 9, 14);
    expect(plain(clock(morning.getTime()))).toBe('9:14 AM');
    expect(plain(clockOfDay(morning.toISOString()))).toBe('Jul 3, 2026, 9:14 AM');
    settings.language = 'es';
    expect(plain(clock(morning.getTime()))).toMatch(/^9:14 a\. ?m\.$/);
    expect(plain(sealed('2026-03-04T16:05:06Z'))).toMatch(/^4 mar 2026, 4:05 p\. ?m\.$/);
    settings.language = 'en';
  });

  it('shows a tax rate as it is typed, and sizes rounded up', () => {
    expect(percentOfRate(7250)).toBe('7.25');
    expect(kilobytes('1001')).toBe('2');
  });
});

describe('appointments', () => {
  it('are read in the language’s own order; older ones stay as they were written', () => {
    expect(appointed('2026-11-30T14:30')).toMatch(/Nov 30, 2026.*2:30/);
    expect(appointed('15 October, 10:05')).toBe('15 October, 10:05');
    expect(appointed('')).toBe('');
  });
});
