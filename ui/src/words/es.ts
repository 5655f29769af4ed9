/** The catalogue's Spanish files, as text: the report and the command line read the same ones. */
export const files = import.meta.glob<string>('../../../src-tauri/crates/words/es/*.ftl', {
  query: '?raw',
  import: 'default',
  eager: true,
});
