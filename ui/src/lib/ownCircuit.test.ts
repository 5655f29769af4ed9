import { describe, expect, it } from 'vitest';
import {
  freshCircuit,
  loadsOf,
  nextPart,
  pointsOf,
  problemsElsewhere,
  problemsIn,
  relaysOf,
} from './ownCircuit';

const fresh = () => freshCircuit({ battery: 'battery', plus: 'B+', minus: 'B-' });

describe('a circuit that is being entered', () => {
  it('goes on where the last part ends, from the battery at its positive post', () => {
    const entry = fresh();
    entry.parts.push({ ...nextPart(entry, 'wire', 'wire'), to: 'F1' });
    expect(entry.parts[1]).toMatchObject({ name: 'wire 1', from: 'B+' });
    expect(nextPart(entry, 'wire', 'wire')).toMatchObject({ name: 'wire 2', from: 'F1' });
  });

  it('knows its points once each, its loads and its relays', () => {
    const entry = fresh();
    entry.parts.push({ ...nextPart(entry, 'relay_coil', 'coil'), to: 'B- ', relay: 'R1' });
    expect(pointsOf(entry)).toEqual(['B+', 'B-']);
    expect(loadsOf(entry)).toEqual(['coil 1']);
    expect(relaysOf(entry)).toEqual(['R1']);
    expect(nextPart(entry, 'relay_contact', 'contact').relay).toBe('R1');
  });

  it('shows every problem somewhere', () => {
    const at = (place: string) => ({ place, code: 'name', detail: '' });
    const problems = ['title', 'parts/1', 'parts/12/name', 'module/feed', 'points/b', 'parts'].map(at);
    expect(problemsIn(problems, 'parts/1').map((one) => one.place)).toEqual(['parts/1']);
    expect(problemsElsewhere(problems).map((one) => one.place)).toEqual(['points/b', 'parts']);
  });
});
