/** The catalogue's English files, as text: the report and the command line read the same ones. */
export const files = import.meta.glob<string>('../../../src-tauri/crates/words/en/*.ftl', {
  query: '?raw',
  import: 'default',
  eager: true,
});
