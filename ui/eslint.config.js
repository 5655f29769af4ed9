import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

const shellOnly = {
  patterns: [{ group: ['@tauri-apps/*'], message: 'Only src/backend/ may know the shell.' }],
};
const storage = ['localStorage', 'sessionStorage', 'indexedDB'].map((name) => ({
  name,
  message: 'A web view may be wiped by the system: Rust keeps everything of value.',
}));

export default ts.config(
  { ignores: ['dist/', 'node_modules/', 'src/bindings/'] },
  js.configs.recommended,
  ...ts.configs.strict,
  ...svelte.configs.recommended,
  {
    languageOptions: { globals: { ...globals.browser } },
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      'no-restricted-imports': ['error', shellOnly],
      'no-restricted-globals': ['error', ...storage, '__TAURI_INTERNALS__'],
      'no-console': 'error',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'], svelteConfig } },
  },
  { files: ['src/backend/**'], rules: { 'no-restricted-imports': 'off' } },
  { files: ['*.config.*'], languageOptions: { globals: { ...globals.node } } },
);
