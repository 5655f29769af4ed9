import type { ErrorView } from '../../bindings/ErrorView';
import type { LineEntry } from '../../bindings/LineEntry';
import type { LineView } from '../../bindings/LineView';
import { typedAmount } from '../../format/format';

/** Kind of a line. */
export type LineKind = LineEntry['kind'];

/** Kinds of lines in the order of an estimate. */
export const lineKinds: LineKind[] = [
  'diagnosis',
  'labour',
  'part',
  'sublet',
  'programming',
  'core_charge',
  'core_credit',
  'supplies',
  'fee',
  'discount',
];

/** A blank line; labour comes with the shop's rate. Which kinds start as taxed is a rule of the job's region. */
export function blankLine(kind: LineKind, labourRate: string, taxedKinds: string[]): LineEntry {
  const hourly = isHourly(kind);
  return {
    kind,
    description: '',
    quantity: hourly ? '' : '1',
    unit_price: hourly ? typedAmount(labourRate) : '',
    condition: kind === 'part' ? 'new' : '',
    part_number: '',
    provider: '',
    taxed: taxedKinds.includes(kind),
  };
}

/** A line on record as it would be typed again. */
export function lineAgain(line: LineView): LineEntry {
  const { kind, description, quantity, condition, part_number, provider, taxed } = line;
  return {
    kind: kind as LineKind,
    description,
    quantity,
    unit_price: typedAmount(line.unit_price),
    condition,
    part_number,
    provider,
    taxed,
  };
}

/** Kinds that are counted in hours. */
export function isHourly(kind: string): boolean {
  return kind === 'labour' || kind === 'diagnosis' || kind === 'programming';
}

/** Number of the line a refusal is about, from 1; 0 when it is about no single line. */
export function lineOf(failure: ErrorView | null): number {
  const line = Number(failure?.values.line ?? '');
  return Number.isInteger(line) && line > 0 ? line : 0;
}
