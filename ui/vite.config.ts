import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// `npm run dev` sends its requests to a desk that runs at the same time: `daylift desk --no-open --port 4173`.
const desk = 'http://127.0.0.1:4173';

export default defineConfig({
  plugins: [svelte()],
  base: '/',
  build: { outDir: 'dist', assetsInlineLimit: 0, chunkSizeWarningLimit: 900 },
  server: {
    proxy: { '/api': { target: desk, changeOrigin: true, headers: { origin: desk } } },
    // The words are in the same folder as those of the terminal.
    fs: { allow: ['.', '../crates/present/words'] },
  },
  resolve: { conditions: process.env.VITEST ? ['browser'] : undefined },
  test: { environment: 'jsdom', include: ['src/**/*.test.ts'] },
});
