import { FluentBundle, FluentNumber, FluentResource, type FluentVariable } from '@fluent/bundle';

export type Language = 'en' | 'es';
export type Fill = Partial<Record<string, string | number>>;

const tags: Record<Language, string> = { en: 'en-US', es: 'es-US' };
/** Each language is loaded by itself: a start needs one of them. */
const files: Record<Language, () => Promise<{ files: Record<string, string> }>> = {
  en: () => import('./en'),
  es: () => import('./es'),
};
const read: Partial<Record<Language, FluentBundle>> = {};
const nothing = new FluentBundle(tags.en);

/** Reads the words of a language; nothing can be said before the first one is read. */
export async function readWords(language: Language): Promise<void> {
  read[language] ??= bundled(language, (await files[language]()).files);
}

/** The words of a language; until they are read, those of the other one. */
export function catalogue(language: Language): FluentBundle {
  return read[language] ?? read[language === 'en' ? 'es' : 'en'] ?? nothing;
}

/** The sentence of a key; undefined when the catalogue has none. A place without a value stays visible. */
export function sentence(language: Language, key: string, fill: Fill): string | undefined {
  const bundle = catalogue(language);
  const pattern = bundle.getMessage(key)?.value;
  // With a list for errors the library never throws: a place without a value is all that can be wrong.
  return pattern ? bundle.formatPattern(pattern, values(fill), []) : undefined;
}

function bundled(language: Language, texts: Record<string, string>): FluentBundle {
  // Values are no sentences of another direction, and tests read the text: no invisible marks around them.
  const bundle = new FluentBundle(tags[language], { useIsolating: false });
  for (const text of Object.values(texts)) bundle.addResource(new FluentResource(text));
  return bundle;
}

/** Numbers choose between singular and plural; most of them name something (job 1234, model year 2019): not grouped. */
function values(fill: Fill): Record<string, FluentVariable> {
  const given = Object.entries(fill).filter(([, value]) => value !== undefined);
  return Object.fromEntries(
    given.map(([name, value = '']) => [
      name,
      typeof value === 'number' ? new FluentNumber(value, { useGrouping: false }) : value,
    ]),
  );
}
