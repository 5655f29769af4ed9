import { describe, expect, it } from 'vitest';
import type { CircuitView } from '../../bindings/CircuitView';
import { drawn } from './drawing';

const text = { en: '', es: '' };
const point = (id: string, x: number, y: number): CircuitView['points'][number] => ({
  id,
  name: text,
  x,
  y,
  expected_volts: null,
  measured_volts: null,
  reachable: true,
});
const part = (id: string, from: string, to: string): CircuitView['parts'][number] => ({
  id,
  name: text,
  kind: 'wire',
  from,
  to,
  probability: 0,
  module: false,
});

function circuit(points: CircuitView['points'], parts: CircuitView['parts']): CircuitView {
  const rest = { connectors: [], state_variables: [], loads: [], tests: [] };
  return { id: '', title: text, width: 1, height: 1, points, parts, ...rest };
}

describe('the drawing of a circuit', () => {
  it('gives parts with the same ends different places', () => {
    const two = [part('one', 'a', 'b'), part('two', 'b', 'a'), part('three', 'a', 'b')];
    const { parts } = drawn(circuit([point('a', 0, 0), point('b', 3, 0)], two), 50);
    expect(new Set(parts.map(({ x, y }) => `${x} ${y}`)).size).toBe(3);
  });

  it('runs round a corner where the ends lie askew, with the symbol on the longer side', () => {
    const { parts } = drawn(circuit([point('a', 0, 0), point('b', 4, 1)], [part('one', 'a', 'b')]), 50);
    expect(parts[0]?.path.match(/L/g)).toHaveLength(2);
    expect(parts[0]?.degrees).toBe(0);
  });

  it('leaves out a part whose end is not a point', () => {
    expect(drawn(circuit([point('a', 0, 0)], [part('one', 'a', 'z')]), 50).parts).toEqual([]);
  });

  it('keeps everything inside, wherever the file starts to count', () => {
    const { points } = drawn(circuit([point('a', -3, 5), point('b', 2, 9)], []), 50);
    expect(Math.min(...points.map(({ x, y }) => Math.min(x, y)))).toBeGreaterThan(0);
  });

  it('lists what it cannot draw', () => {
    const nowhere = drawn(
      circuit([point('a', Number.NaN, 0), point('b', 3, 0)], [part('one', 'a', 'b')]),
      50,
    );
    expect([nowhere.drawable, nowhere.points.length, nowhere.parts.length]).toEqual([false, 2, 1]);
    expect(drawn(circuit([], []), 50).drawable).toBe(false);
    expect(drawn(circuit([point('a', 0, 0), point('b', 9_000, 0)], []), 50).drawable).toBe(false);
    expect(drawn(circuit([point('a', 0, 0)], []), 50).drawable).toBe(true);
  });
});
