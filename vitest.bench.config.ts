import { defineConfig } from 'vitest/config';

/** Measurements in a real browser. They tell figures and judge nothing, so `npm test` leaves them out. */
export default defineConfig({
  test: {
    include: ['tests/browser/**/*.bench.ts'],
    globalSetup: ['tests/support/notebook-server.ts'],
    testTimeout: 300_000,
    hookTimeout: 60_000,
    disableConsoleIntercept: true,
  },
});
