import { defineConfig } from 'vitest/config';

// Not a test: it takes the picture of the page for the documentation, with what the tests in a browser use.
export default defineConfig({
  test: {
    environment: 'node',
    include: ['browser/picture.ts'],
    testTimeout: 60_000,
  },
});
