import { describe, expect, it } from 'vitest';
import { circuit, text } from '../testing/samples';
import { afterKey, finished, isYesNo, readingFor, unitsOf } from './reading';

const typed = (...keys: string[]): string => keys.reduce(afterKey, '');

describe('the keypad', () => {
  it.each([
    [['1', '2', '.', '4'], '12.4'],
    [['1', '.', '2', '.', '4'], '1.24'],
    [['0', '.', '0', '0', '-'], '-0.00'],
    [['-', '-', '5'], '5'],
    [['1', 'OL'], 'OL'],
    [['OL', '3'], '3'],
    [['OL', 'erase'], ''],
    [['1', '2', 'erase'], '1'],
    [['erase'], ''],
  ])('%j gives %s', (keys, text) => expect(typed(...keys)).toBe(text));
});

describe('a reading', () => {
  it('starts from what the test asks for', () => {
    const entry = readingFor({
      id: 'drop',
      title: { en: '', es: '' },
      mode: 'ohms',
      red: 'a',
      black: 'b',
      state: { key: 'off' },
      load: '',
      minutes: 1,
      cautions: [],
      expected: null,
    });
    expect(entry).toMatchObject({ test: 'drop', mode: 'ohms', unit: 'ohm', red: 'a', black: 'b', value: '' });
    expect(entry.state).toEqual({ key: 'off' });
  });

  it('takes a question that was passed over as "not known", and leaves an answer alone', () => {
    const said = { ...readingFor(undefined), complaint_present: 'yes' as const };
    expect(finished(readingFor(undefined), circuit()).complaint_present).toBe('unknown');
    expect(finished(said, circuit()).complaint_present).toBe('yes');
  });

  it('sends every position as it was shown: what nobody knows as unknown, the rest as usual', () => {
    const position = (id: string) => ({ id, name: text(id) });
    const variable = (id: string, usual: string) => {
      return { id, name: text(id), usual, positions: ['off', 'on'].map(position) };
    };
    const shown = { ...circuit(), state_variables: [variable('key', 'off'), variable('relay', 'on')] };
    const entry = { ...readingFor(undefined), state: { key: 'unknown' } };
    expect(finished(entry, shown).state).toEqual({ key: 'unknown', relay: 'on' });
  });

  it('asks yes or no where the eyes are the meter', () => {
    expect([isYesNo('look'), isYesNo('yes_no'), isYesNo('volts_dc')]).toEqual([true, true, false]);
    expect(unitsOf('ohms')).toEqual(['ohm', 'kohm', 'Mohm']);
  });
});
