import { readFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { en } from './en';
import { es } from './es';
import { filled } from '.';

const places = (text: string): string[] => (text.match(/\{\w+\}/g) ?? []).sort();

describe('words', () => {
  it('has the same keys in both languages', () => {
    expect(Object.keys(es).sort()).toEqual(Object.keys(en).sort());
  });

  it('leaves nothing empty', () => {
    for (const [key, text] of [...Object.entries(en), ...Object.entries(es)]) {
      expect(text.trim(), key).not.toBe('');
    }
  });

  it('names the same values in both languages', () => {
    for (const [key, text] of Object.entries(en)) {
      expect(places(es[key as keyof typeof es]), key).toEqual(places(text));
    }
  });

  it('has a remedy for every error and an error for every remedy', () => {
    const codes = (prefix: string): string[] =>
      Object.keys(en)
        .filter((key) => key.startsWith(prefix))
        .map((key) => key.slice(prefix.length))
        .sort();
    expect(codes('remedy_')).toEqual(codes('error_'));
  });

  it('has a remedy for everything that may have happened to the data', () => {
    const notices = Object.keys(en).filter((key) => /^notice_\w+_\w+(?<!_remedy)$/.test(key));
    expect(notices.length).toBeGreaterThan(8);
    expect(notices.filter((key) => !(`${key}_remedy` in en))).toEqual([]);
  });

  it('is not the same text twice, where a sentence is long enough to need translating', () => {
    const same = Object.entries(en).filter(
      ([key, text]) => text.split(' ').length > 3 && es[key as keyof typeof es] === text,
    );
    expect(same).toEqual([]);
  });

  it('fills the places of a sentence and leaves an unknown one to be seen', () => {
    expect(filled('Job {number}, {other}', { number: 7 })).toBe('Job 7, {other}');
  });
});

/** Every `.rs` file below a folder; the file itself when it is one. */
function rustFiles(folder: string): string[] {
  if (folder.endsWith('.rs')) return [folder];
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return rustFiles(path);
    return name.endsWith('.rs') ? [path] : [];
  });
}

const crates = join(import.meta.dirname, '../../../../src-tauri/crates');
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
    const missing = found.filter((code) => !(`${prefix}_${code}` in en));
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
    expect(codes.filter((code) => !(code in en))).toEqual([]);
  });

  it('everything that may be noticed has words', () => {
    const codes = codesIn('api/src/actions/notices.rs', /self\.found\(\s*"(\w+)"/g);
    expect(codes.length).toBeGreaterThan(8);
    expect(codes.filter((code) => !(`notice_${code}` in en && `notice_${code}_remedy` in en))).toEqual([]);
  });

  it('what long work is doing has words', () => {
    const codes = codesIn('api/src', /work\.begin\("(\w+)"\)/g);
    expect(codes.length).toBeGreaterThan(4);
    expect(codes.filter((code) => !(`work_${code}` in en))).toEqual([]);
  });

  it('cautions of the circuits all have words', () => {
    const folder = join(crates, 'circuit/src/library');
    const codes = readdirSync(folder).flatMap((name) => {
      const circuit: { tests: { cautions?: string[] }[] } = JSON.parse(
        readFileSync(join(folder, name), 'utf8'),
      );
      return circuit.tests.flatMap((test) => test.cautions ?? []);
    });
    expect(codes.length).toBeGreaterThan(2);
    expect([...new Set(codes)].filter((code) => !(`caution_${code}` in en))).toEqual([]);
  });

  it.each([
    ['MissingCode', 'circuit/src/answer/verdict.rs', 'missing'],
    ['DoubtCode', 'circuit/src/answer/doubt.rs', 'doubt'],
    ['WithheldCode', 'circuit/src/answer/next_test.rs', 'held'],
    ['ProblemCode', 'circuit/src/check/problem.rs', 'circuit_problem'],
    ['LikelihoodWord', 'circuit/src/answer/cause_share.rs', 'likelihood'],
    ['PhotoShare', 'job/src/sharing.rs', 'share'],
    ['LineKind', 'money/src/line.rs', 'kind'],
    ['Code', 'evidence/src/packet/verdict.rs', 'proven'],
  ])('variants of %s all have words', (name, file, prefix) => {
    const source = readFileSync(join(crates, file), 'utf8');
    const body = new RegExp(`pub enum ${name} \\{([^}]*)\\}`).exec(source)?.[1] ?? '';
    const variants = [...body.matchAll(/^ {4}([A-Z]\w*),$/gm)].map((found) => snake(found[1] ?? ''));
    expect(variants.length).toBeGreaterThan(2);
    const said = (code: string): boolean =>
      `${prefix}_${code}` in en || (prefix === 'proven' && `open_${code}` in en);
    expect(variants.filter((code) => !said(code))).toEqual([]);
  });
});

function snake(name: string): string {
  return name.replace(/(?<!^)([A-Z])/g, '_$1').toLowerCase();
}
