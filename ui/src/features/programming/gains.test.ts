import { expect, it } from 'vitest';
import type { ToolView } from '../../bindings/ToolView';
import { FRAME, gains, steps } from './gains';

const picture = [0, 10, 20].map((jobs) => {
  const average = jobs * 100 - 1000;
  return { jobs, average, low: average - jobs * 10, high: average + jobs * 10 };
});
const view = { picture, break_even: 10, jobs_low: 5, jobs_high: 40 } as ToolView;

it('marks the scales with round numbers', () => {
  expect(steps(0, 23, 5)).toEqual([0, 5, 10, 15, 20]);
  expect(steps(-1000, 1200, 5)).toEqual([-1000, -500, 0, 500, 1000]);
  expect(steps(0, 0, 5)).toEqual([0]);
});

it('marks the break-even where the line crosses nothing, and cuts what is expected at the edge', () => {
  const shown = gains(view);
  const middle = FRAME.left + (FRAME.width - FRAME.left - FRAME.right) / 2;
  expect(shown.breakEven).toBeCloseTo(middle);
  // The middle point of the line lies on the zero line.
  const [, point] = shown.line.split('L');
  expect(Number(point?.split(' ')[1])).toBeCloseTo(shown.zero, 1);
  expect(shown.expected.to).toBeCloseTo(FRAME.width - FRAME.right);
  expect(gains({ ...view, break_even: 30 }).breakEven).toBeNull();
});
