import { describe, expect, it } from 'vitest';
import {
  blankModule,
  freshCircuit,
  loadsOf,
  nextPart,
  pointsOf,
  problemsElsewhere,
  problemsIn,
  relaysOf,
  wholeCircuit,
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
    const problems = ['title', 'parts/1', 'parts/12/name', 'modules/0/feed', 'points/b', 'parts'].map(at);
    expect(problemsIn(problems, 'parts/1').map((one) => one.place)).toEqual(['parts/1']);
    expect(problemsElsewhere(problems).map((one) => one.place)).toEqual(['points/b', 'parts']);
  });

  it('knows what a splice and a sensor join, and what can be complained of', () => {
    const entry = fresh();
    entry.parts.push({ ...nextPart(entry, 'splice', 'splice'), to: 'S1', others: ['S2', 'S3'] });
    entry.parts.push({ ...nextPart(entry, 'sensor', 'sensor'), to: 'G', signal: 'SIG' });
    entry.modules.push({ ...blankModule(), name: 'engine module', can_high: 'E6' });
    expect(pointsOf(entry)).toEqual(['B+', 'B-', 'S1', 'S2', 'S3', 'G', 'SIG']);
    expect(loadsOf(entry)).toEqual(['sensor 1', 'engine module']);
  });

  it('takes up a draft that an older version left', () => {
    const { modules, works_while, ...left } = fresh();
    expect([modules, works_while]).toEqual([[], 'key_on']);
    const module = {
      name: 'M',
      feed: 'A',
      ground: 'B',
      output: 'C',
      drives: 'ground',
      input: 'D',
      asked_by: 'feed',
    };
    const whole = wholeCircuit({ ...left, module } as unknown as ReturnType<typeof fresh>);
    expect(whole).not.toHaveProperty('module');
    expect(whole.modules).toEqual([
      {
        ...blankModule(),
        name: 'M',
        feed: 'A',
        ground: 'B',
        inputs: [{ point: 'D', asked_by: 'feed' }],
        outputs: [{ point: 'C', drives: 'ground', duty_percent: '', asked_by: 'all' }],
      },
    ]);
    expect(wholeCircuit(whole)).toEqual(whole);
  });
});
