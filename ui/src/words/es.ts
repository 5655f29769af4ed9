/** The catalogue's Spanish files, as text. The report and the command line read the same ones, and three alone that no screen asks for. */
export const files = import.meta.glob<string>(
  [
    '../../../src-tauri/crates/words/es/*.ftl',
    '!../../../src-tauri/crates/words/es/command_line.ftl',
    '!../../../src-tauri/crates/words/es/limits.ftl',
    '!../../../src-tauri/crates/words/es/pages.ftl',
  ],
  { query: '?raw', import: 'default', eager: true },
);
