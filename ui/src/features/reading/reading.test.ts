import { describe, expect, it } from 'vitest';
import { circuit, reading, test, text } from '../../testing/samples';
import {
  afterKey,
  finished,
  isYesNo,
  readingAgain,
  readingFor,
  readingTakenAnew,
  slotsOf,
  unitsOf,
  type ReadingFields,
} from './reading';
import { asksText, recordedText, slotText } from './readingWords';

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
      compares: 'value',
      condition: null,
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

describe('a beep', () => {
  it('is an answer with leads on, and never a recording', () => {
    const entry = { ...readingFor(test('coil')), mode: 'continuity' as const, unit: 'yes_no' as const };
    expect(isYesNo('continuity')).toBe(true);
    const slots = slotsOf(circuit(), entry, false);
    expect(slots).toEqual(expect.arrayContaining(['red', 'black', 'placed', 'condition']));
    expect(slots).not.toContain('recorded');
  });
});

describe('a recording', () => {
  const asked = { ...test('drop'), compares: 'lowest' as const, condition: 'wiggled' as const };

  it('is asked for where the test is about it, and the value may be left out', () => {
    const entry = readingFor(asked);
    expect(entry).toMatchObject({ recorded: 'lowest', condition: 'wiggled', lowest: '', value: '' });
    expect(slotsOf(circuit(), entry, false).slice(0, 3)).toEqual(['photo', 'lowest', 'value']);
    expect(slotText(circuit(), entry, 'lowest', '')).toBe('');
    expect(slotText(circuit(), entry, 'value', '')).toBe('left out');
    expect(asksText(entry)).toEqual([
      'Meter on MIN/MAX, at its normal speed (not peak): read the lowest value.',
      'Wiggle the harness and its connectors while you watch.',
    ]);
  });

  it('is sent as it was asked: what was typed for another choice stays behind', () => {
    const entry = { ...readingFor(asked), lowest: '8.1', highest: '14' };
    const sent = finished(entry, circuit());
    expect(sent).toMatchObject({ lowest: '8.1', highest: '', condition: 'wiggled' });
    expect(sent).not.toHaveProperty('recorded');
    expect(finished({ ...entry, recorded: 'value' }, circuit()).lowest).toBe('');
  });

  it('stands behind the value on record, and comes back for a correction', () => {
    const kept = reading(1, { value: '12.4', lowest: '-0.3', highest: '14.1', condition: 'heated' });
    expect(recordedText(kept)).toBe('12.4 V, lowest −0.3 V, highest 14.1 V');
    expect(readingAgain(kept)).toMatchObject({ recorded: 'both', lowest: '-0.3', condition: 'heated' });
    expect(recordedText({ ...kept, value: '' })).toBe('lowest −0.3 V, highest 14.1 V');
  });

  it('is no business of an answer', () => {
    const entry = { ...readingFor(asked), mode: 'yes_no' as const, recorded: 'both' as const };
    expect(slotsOf(circuit(), entry, false)).not.toContain('lowest');
    expect(finished(entry, circuit()).lowest).toBe('');
    expect(asksText(entry)).toEqual(['Wiggle the harness and its connectors while you watch.']);
  });

  it('was unknown to drafts of an older version', () => {
    const later = ['recorded', 'lowest', 'highest', 'condition'];
    const old = Object.entries(readingFor(undefined)).filter(([field]) => !later.includes(field));
    const entry = Object.fromEntries(old) as ReadingFields;
    expect(slotsOf(circuit(), entry, false).slice(0, 3)).toEqual(['photo', 'value', 'complaint']);
    expect(slotText(circuit(), entry, 'recorded', '')).toBe('steady value');
    expect(slotText(circuit(), entry, 'condition', '')).toBe('left alone');
    expect(finished(entry, circuit())).toMatchObject({ lowest: '', highest: '', condition: null });
  });
});

describe('a reading taken anew', () => {
  it('keeps the points and the state, and nothing that was seen', () => {
    const before = reading(3, { value: '6.02', state: { key: 'on' }, red: 'a', black: 'b', note: 'wet' });
    const entry = readingTakenAnew(before);
    expect(entry).toMatchObject({ red: 'a', black: 'b', state: { key: 'on' }, leads_placed_anew: true });
    expect([entry.value, entry.note, entry.complaint_present, entry.photos]).toEqual(['', '', '', []]);
  });
});
