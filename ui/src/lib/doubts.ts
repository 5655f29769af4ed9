import type { DoubtView } from './bindings/DoubtView';

/** The same doubt about twenty photos is one line with its count. */
export function countedDoubts(doubts: DoubtView[]): [string, number][] {
  const counts = new Map<string, number>();
  for (const { code } of doubts) counts.set(code, (counts.get(code) ?? 0) + 1);
  return [...counts];
}
