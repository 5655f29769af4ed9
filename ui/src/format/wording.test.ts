import { describe, expect, it } from 'vitest';
import { narrowing } from './narrowing';
import { shownValues } from './refusal';
import { ruleSource } from './ruleSource';
import { sayCode } from '../words';

describe('how much a test narrows the causes down', () => {
  it.each([
    [1.64, 'a_lot'],
    [1, 'a_lot'],
    [0.5, 'some'],
    [0.1, 'little'],
    [0, 'little'],
  ])('%d bits are %s', (bits, words) => expect(narrowing(bits)).toBe(words));
});

describe('an error about a field', () => {
  it('names the field in words, never by its code', () => {
    expect(sayCode('error', 'field_empty', shownValues({ field: 'part_number' }))).toBe(
      'Still empty: Part number.',
    );
    const route = shownValues({ what: 'route', value: 'by post' });
    expect(sayCode('error', 'unknown_choice', route)).toBe(
      'Programming option: “by post” isn’t one of the choices.',
    );
    expect(sayCode('error', 'field_empty', shownValues({ field: 'new_here' }))).not.toContain('new_here');
  });

  it('says what fits where a choice is typed', () => {
    const odometer = shownValues({ what: 'odometer', value: '-500' });
    expect(sayCode('error', 'unknown_choice', odometer)).toBe('Odometer: digits only.');
  });
});

describe('a source of a rule', () => {
  it('says in words how it is known', () => {
    expect(ruleSource('Code 12.3 (text_read)')).toEqual({
      text: 'Code 12.3',
      known: '(we read the rule itself)',
    });
    expect(ruleSource('Code 12.3(a)')).toEqual({ text: 'Code 12.3(a)', known: '' });
  });
});
