/** The catalogue's English files, as text. The report and the command line read the same ones, and three alone that no screen asks for. */
export const files = import.meta.glob<string>(
  [
    '../../../src-tauri/crates/words/en/*.ftl',
    '!../../../src-tauri/crates/words/en/command_line.ftl',
    '!../../../src-tauri/crates/words/en/limits.ftl',
    '!../../../src-tauri/crates/words/en/pages.ftl',
  ],
  { query: '?raw', import: 'default', eager: true },
);
