import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// The shell serves the bundle from its own origin: relative paths, one small bundle, no dev server address.
export default defineConfig({
  base: './',
  plugins: [svelte()],
  build: { target: 'es2022', sourcemap: false, reportCompressedSize: false },
  // Components are mounted in tests as in the window: the browser's half of Svelte, not the server's.
  ...(process.env.VITEST ? { resolve: { conditions: ['browser'] } } : {}),
  test: { environment: 'jsdom', include: ['src/**/*.test.ts'], testTimeout: 20_000 },
});
