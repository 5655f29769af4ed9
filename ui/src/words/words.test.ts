import { readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { FluentNumber } from '@fluent/bundle';
import { describe, expect, it } from 'vitest';
import { catalogue, sentence } from './catalogue';
import { say, sayCode, sayIn } from '.';

const known = (key: string): boolean => catalogue('en').hasMessage(key) && catalogue('es').hasMessage(key);

describe('words', () => {
  it('fill the places of a sentence and leave an unknown one to be seen', () => {
    expect(say('job_number', { number: 7 })).toBe('Job 7');
    expect(sentence('en', 'job_number', {})).toBe('Job {$number}');
    expect(sayIn('es', 'job_number', { number: '{ $number }' })).toBe('Trabajo { $number }');
  });

  it('choose between one and many, and never group the digits of a number that names something', () => {
    expect(sayIn('en', 'closed_jobs_count', { count: 1 })).toMatch(/^1 closed job of/);
    expect(sayIn('es', 'closed_jobs_count', { count: 2 })).toMatch(/2 trabajos cerrados/);
    expect(say('vin_year', { year: 2019 })).toContain('2019');
  });

  it('say what a family says of any other code, and never a code that has no words', () => {
    expect(sayCode('error', 'no_such_code')).toBe(say('error_unexpected'));
    expect(sayCode('caution', 'no_such_code', { code: 'no_such_code' })).not.toContain('no_such_code');
  });

  it('are read by this library as they are by the other one: every message has a text', () => {
    for (const language of ['en', 'es'] as const) {
      const bundle = catalogue(language);
      expect(bundle._messages.size).toBeGreaterThan(800);
      for (const { id, value } of bundle._messages.values()) {
        expect(value, id).not.toBeNull();
        const errors: Error[] = [];
        const fill = Object.fromEntries(placesOf(value).map((name) => [name, new FluentNumber(2)]));
        bundle.formatPattern(value ?? '', fill, errors);
        expect(errors, id).toEqual([]);
      }
    }
  });
});

/** Names of the values that a parsed text takes, wherever they stand in it. */
function placesOf(parsed: unknown): string[] {
  if (Array.isArray(parsed)) return parsed.flatMap(placesOf);
  if (typeof parsed !== 'object' || parsed === null) return [];
  const own = 'type' in parsed && parsed.type === 'var' && 'name' in parsed ? [String(parsed.name)] : [];
  return [...own, ...Object.values(parsed).flatMap(placesOf)];
}

/** Every `.rs` file below a folder; the file itself when it is one. */
function rustFiles(folder: string): string[] {
  if (folder.endsWith('.rs')) return [folder];
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return rustFiles(path);
    return name.endsWith('.rs') ? [path] : [];
  });
}

const crates = join(import.meta.dirname, '../../../src-tauri/crates');
const codesIn = (folder: string, pattern: RegExp): string[] =>
  rustFiles(join(crates, folder)).flatMap((path) =>
    [...readFileSync(path, 'utf8').matchAll(pattern)].map((found) => found[1] ?? ''),
  );

describe('codes that Rust sends', () => {
  it.each([
    ['refusals of the api', 'api/src', /(?:refused|because)\("(\w+)"\)/g, 'error'],
    ['error codes of the api', 'api/src/error.rs', /=> "([a-z_]+)",\n/g, 'error'],
    ['reasons of the job', 'job/src', /require\([^;]*?"(\w+)"\)/g, 'error'],
    ['errors of a VIN', 'job/src/vin', /=> "(vin_\w+)"/g, 'error'],
    ['doubts about clocks', 'job/src', /RecordDoubt::\w+ => "(\w+)"/g, 'doubt'],
    ['stages', 'job/src', /Stage::\w+ => "(\w+)"/g, 'stage'],
    ['failures of a time-stamp', 'evidence/src/timestamp/error.rs', /=> "(\w+)",/g, 'stamp'],
    [
      'recipients',
      'job/src/recipient.rs',
      /Self::(?:C|A|S)\w+ => "(customer|arbiter|card_issuer|supplier)"/g,
      'recipient',
    ],
    ['cautions of the job', 'job/src/cautions.rs', /pub const [A-Z_]+: &str = "(\w+)";/g, 'caution'],
  ])('%s all have words', (_name, folder, pattern, prefix) => {
    const found = codesIn(folder, pattern);
    expect(found.length).toBeGreaterThan(2);
    const missing = found.filter((code) => !known(`${prefix}_${code}`));
    expect([...new Set(missing)]).toEqual([]);
  });

  it('every value that may be withheld has a name', () => {
    const described = rustFiles(join(crates, 'job/src/event'))
      .map((path) => readFileSync(path, 'utf8').split('#[cfg(test)]')[0] ?? '')
      .flatMap((source) => source.split('Descriptor::new(').slice(1));
    const codes = described.flatMap((text) => {
      const kind = /^\s*"(\w+)"/.exec(text)?.[1];
      const fields = text.split(');')[0]?.matchAll(/Field::(?!public)\w+\("(\w+)"/g) ?? [];
      return kind ? [...fields].map((found) => `value_${kind}_${found[1]}`) : [];
    });
    expect(codes.length).toBeGreaterThan(20);
    expect(codes.filter((code) => !known(code))).toEqual([]);
  });

  it('every kind of record has a name', () => {
    const source = readFileSync(join(crates, 'job/src/event/mod.rs'), 'utf8');
    const body = /\nevents! \{([^}]*)\}/.exec(source)?.[1] ?? '';
    const kinds = [...body.matchAll(/^ {4}([A-Z]\w*)\(/gm)].map((found) => snake(found[1] ?? ''));
    expect(kinds.length).toBeGreaterThan(20);
    expect(kinds.filter((kind) => !known(`event_${kind}`))).toEqual([]);
  });

  it('everything that may be noticed has words', () => {
    const codes = codesIn('api/src/actions/notices.rs', /self\.found\(\s*"(\w+)"/g);
    expect(codes.length).toBeGreaterThan(8);
    expect(codes.filter((code) => !known(`notice_${code}`) || !known(`notice_${code}_remedy`))).toEqual([]);
  });

  it('what long work is doing has words', () => {
    const codes = codesIn('api/src', /work\.begin\("(\w+)"\)/g);
    expect(codes.length).toBeGreaterThan(4);
    expect(codes.filter((code) => !known(`work_${code}`))).toEqual([]);
  });

  it('fields that an error of the api can name all have words', () => {
    const named =
      /(?:what|field): "(\w+)"|(?:one_of|text|required|number|from_code|typed_text|known_point|known_place)\(\s*(?:\w+, )*"(\w+)"/g;
    const codes = rustFiles(join(crates, 'api/src')).flatMap((path) =>
      [...readFileSync(path, 'utf8').matchAll(named)].map((found) => found[1] ?? found[2] ?? ''),
    );
    expect(codes.length).toBeGreaterThan(60);
    expect([...new Set(codes)].filter((code) => !known(`field_${code}`))).toEqual([]);
  });

  it('cautions of the circuits all have words', () => {
    const folder = join(crates, 'circuit/src/library');
    const whole = readdirSync(folder).filter((name) => !name.endsWith('.blocks.json'));
    const codes = whole.flatMap((name) => {
      const circuit: { tests: { cautions?: string[] }[] } = JSON.parse(
        readFileSync(join(folder, name), 'utf8'),
      );
      return circuit.tests.flatMap((test) => test.cautions ?? []);
    });
    expect(codes.length).toBeGreaterThan(2);
    expect([...new Set(codes)].filter((code) => !known(`caution_${code}`))).toEqual([]);
  });

  it.each([
    ['MissingCode', 'circuit/src/answer/verdict.rs', 'missing'],
    ['DoubtCode', 'circuit/src/answer/doubt.rs', 'doubt'],
    ['WithheldCode', 'circuit/src/answer/next_test.rs', 'held'],
    ['ProblemCode', 'circuit/src/check/problem.rs', 'circuit_problem'],
    ['LikelihoodWord', 'circuit/src/answer/cause_share.rs', 'likelihood'],
    ['SourceStatus', 'job/src/rules/source.rs', 'source'],
    ['TaxName', 'job/src/rules/locale.rs', 'tax_name'],
    ['PhotoShare', 'job/src/sharing.rs', 'share'],
    ['LineKind', 'money/src/line.rs', 'kind'],
  ])('variants of %s all have words', (name, file, prefix) => {
    const source = readFileSync(join(crates, file), 'utf8');
    const body = new RegExp(`pub enum ${name} \\{([^}]*)\\}`).exec(source)?.[1] ?? '';
    const variants = [...body.matchAll(/(?:#\[serde\(rename = "(\w+)"\)\]\n)?^ {4}([A-Z]\w*),$/gm)].map(
      ([, renamed, name]) => renamed ?? snake(name ?? ''),
    );
    expect(variants.length).toBeGreaterThan(2);
    expect(variants.filter((code) => !known(`${prefix}_${code}`))).toEqual([]);
  });
});

function snake(name: string): string {
  return name.replace(/(?<!^)([A-Z])/g, '_$1').toLowerCase();
}
