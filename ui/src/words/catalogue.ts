import { FluentBundle, FluentNumber, FluentResource, type FluentVariable } from '@fluent/bundle';

export type Language = 'en' | 'es';
export type Fill = Partial<Record<string, string | number>>;

/** The catalogue's own files, bundled as text: the report and the command line read the same ones. */
const files = import.meta.glob<string>('../../../src-tauri/crates/words/{en,es}/*.ftl', {
  query: '?raw',
  import: 'default',
  eager: true,
});

const tags: Record<Language, string> = { en: 'en-US', es: 'es-US' };
const read: Partial<Record<Language, FluentBundle>> = {};

/** The words of a language, read when they are first needed. */
export function catalogue(language: Language): FluentBundle {
  return (read[language] ??= bundled(language));
}

/** The sentence of a key; undefined when the catalogue has none. A place without a value stays visible. */
export function sentence(language: Language, key: string, fill: Fill): string | undefined {
  const bundle = catalogue(language);
  const pattern = bundle.getMessage(key)?.value;
  // With a list for errors the library never throws: a place without a value is all that can be wrong.
  return pattern ? bundle.formatPattern(pattern, values(fill), []) : undefined;
}

function bundled(language: Language): FluentBundle {
  // Values are no sentences of another direction, and tests read the text: no invisible marks around them.
  const bundle = new FluentBundle(tags[language], { useIsolating: false });
  for (const [path, text] of Object.entries(files)) {
    if (path.includes(`/${language}/`)) bundle.addResource(new FluentResource(text));
  }
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
