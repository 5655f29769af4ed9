import type { NumberView } from '../../bindings/NumberView';
import { amount, shortNumber } from '../../format/format';
import { say, sayCode } from '../../words';

/** A number of the shop with its unit, as it is read. */
export function shownNumber(unit: NumberView['unit'], value: string): string {
  if (value === '') return '–';
  if (unit === 'amount') return amount(value);
  return sayCode('number', unit, { value: shortNumber(Number(value)) });
}

/** Where a number comes from, in words. */
export function sourceOf(number: NumberView): string {
  return sayCode('source', number.source, { jobs: number.jobs });
}

/** What is in use, and where it comes from. */
export function inUse(number: NumberView): string {
  return say('number_in_use', {
    value: shownNumber(number.unit, number.value),
    source: sourceOf(number),
  });
}
