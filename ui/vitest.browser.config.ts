import { defineConfig } from 'vitest/config';

// The page in a real browser, served by the built program: `npm run test:browser`.
export default defineConfig({
  test: {
    environment: 'node',
    include: ['browser/**/*.test.ts'],
    // One browser and one desk at a time, so that tests do not disturb the timing of others.
    fileParallelism: false,
    // Prints the figures that tests annotate.
    reporters: ['verbose'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
