import type { ToolView } from '../../bindings/ToolView';
import type { YearlyGainView } from '../../bindings/YearlyGainView';

/** Size of the picture in its own units, and what is left free for its words. */
export const FRAME = { width: 360, height: 240, left: 68, right: 10, top: 12, bottom: 46 };

/** The picture of a year's gain: paths and places in its own units. */
export type Gains = {
  band: string;
  line: string;
  /** Height at which nothing is gained and nothing lost. */
  zero: number;
  /** Marks on the two scales. */
  across: { at: number; jobs: number }[];
  up: { at: number; amount: number }[];
  /** Where it begins to pay; nothing outside of the picture. */
  breakEven: number | null;
  /** Between which numbers of modules eight years in ten lie. */
  expected: { from: number; to: number };
};

/** Lays the picture out. */
export function gains(view: ToolView): Gains {
  const points = view.picture;
  const most = points.at(-1)?.jobs ?? 1;
  const low = Math.min(0, ...points.map((point) => point.low));
  const high = Math.max(0, ...points.map((point) => point.high));
  const across = (jobs: number): number =>
    FRAME.left + (jobs / most) * (FRAME.width - FRAME.left - FRAME.right);
  const up = (amount: number): number =>
    FRAME.top + ((high - amount) / (high - low || 1)) * (FRAME.height - FRAME.top - FRAME.bottom);
  const along = (value: (point: YearlyGainView) => number, of: YearlyGainView[]): string =>
    of.map((point) => `${across(point.jobs).toFixed(1)} ${up(value(point)).toFixed(1)}`).join('L');
  const there = along((point) => point.high, points);
  const back = along((point) => point.low, [...points].reverse());
  const inside = view.break_even !== null && view.break_even <= most;
  return {
    band: `M${there}L${back}Z`,
    line: `M${along((point) => point.average, points)}`,
    zero: up(0),
    across: steps(0, most, 5).map((jobs) => ({ at: across(jobs), jobs })),
    up: steps(low, high, 5).map((amount) => ({ at: up(amount), amount })),
    breakEven: inside ? across(view.break_even ?? 0) : null,
    expected: { from: across(Math.min(view.jobs_low, most)), to: across(Math.min(view.jobs_high, most)) },
  };
}

/** Round numbers from `low` to `high`, about so many. */
export function steps(low: number, high: number, about: number): number[] {
  const rough = (high - low) / about || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough) ?? rough;
  const found: number[] = [];
  for (let at = Math.ceil(low / step) * step; at <= high + step / 1e6; at += step) found.push(at);
  return found;
}
