import { settings } from '../settings.svelte';
import { en, type Key, type Words } from './en';
import { es } from './es';

export type { Key, Words };
export const languages: Record<'en' | 'es', Words> = { en, es };

/** The words for a key in the language chosen, with `{name}` places filled. */
export function say(key: Key, fill: Record<string, string | number> = {}): string {
  return filled(languages[settings.language][key], fill);
}

/** The same in a language of one's own choice: for texts that somebody else will read. */
export function sayIn(language: string, key: Key, fill: Record<string, string | number> = {}): string {
  return filled(languages[language === 'es' ? 'es' : 'en'][key], fill);
}

/** Puts values into the `{name}` places of a sentence; a place without a value stays visible. */
export function filled(text: string, fill: Partial<Record<string, string | number>>): string {
  return text.replace(/\{(\w+)\}/g, (place, name: string) => String(fill[name] ?? place));
}

/** The words for a code that Rust sends (`cause_open`, …); the bare code shows if a word is missing. */
export function sayCode(
  prefix: string,
  code: string,
  fill: Partial<Record<string, string | number>> = {},
): string {
  const words: Record<string, string | undefined> = languages[settings.language];
  return filled(words[`${prefix}_${code}`] ?? words[`${prefix}_unexpected`] ?? code, fill);
}
