import { sayCode } from '../words';

/** The language in which the regions' files cite: sources are not translated, since nobody finds a translated one. */
export const SOURCE_LANGUAGE = 'en';

/** A source of a rule as the screens show it: its text as cited, and how it is known, which comes as a code in brackets. */
export function ruleSource(source: string): { text: string; known: string } {
  const code = / \((\w+)\)$/.exec(source)?.[1];
  if (code === undefined) return { text: source, known: '' };
  return { text: source.slice(0, -(code.length + 3)), known: `(${sayCode('source', code)})` };
}
