import type { WordKey } from '../bindings/WordKey';
import { settings } from '../state/settings.svelte';
import { sentence, type Fill } from './catalogue';

export type Key = WordKey;

/** The words for a key in the language chosen, with the `{ $name }` places filled. */
export function say(key: Key, fill: Fill = {}): string {
  return sentence(settings.language, key, fill) ?? key;
}

/** The same in a language of one's own choice: for texts that somebody else will read. */
export function sayIn(language: string, key: Key, fill: Fill = {}): string {
  return sentence(language === 'es' ? 'es' : 'en', key, fill) ?? key;
}

/** The words for a code that Rust sends (`cause_open`, …); without them, what the family says of any other code. */
export function sayCode(prefix: string, code: string, fill: Fill = {}): string {
  const said = (key: string): string | undefined => sentence(settings.language, key, fill);
  return said(`${prefix}_${code}`) ?? said(`${prefix}_unexpected`) ?? code;
}
