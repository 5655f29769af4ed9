import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

// The shell serves the bundle from its own origin: relative paths, one small bundle, no dev server address.
export default defineConfig({
  base: './',
  plugins: [svelte()],
  // Two folders outside this one are read: the catalogue of words, which the report and the command line share, and our icons.
  server: { fs: { allow: [here('.'), here('../src-tauri/crates/words'), here('../icons-own')] } },
  build: { target: 'es2022', sourcemap: false, reportCompressedSize: false },
  // Components are mounted in tests as in the window: the browser's half of Svelte, not the server's.
  ...(process.env.VITEST ? { resolve: { conditions: ['browser'] } } : {}),
  test: {
    environment: 'jsdom',
    include: ['src/**/*.test.ts'],
    setupFiles: ['src/testing/words.ts'],
    testTimeout: 20_000,
  },
});
