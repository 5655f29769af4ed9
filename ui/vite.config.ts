import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// The shell serves the bundle from its own origin: relative paths, one small bundle, no dev server address.
export default defineConfig({
  base: './',
  plugins: [svelte()],
  build: { target: 'es2022', sourcemap: false, reportCompressedSize: false },
  test: { environment: 'jsdom', include: ['src/**/*.test.ts'] },
});
