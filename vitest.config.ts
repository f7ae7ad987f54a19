import { defaultClientConditions, defaultServerConditions } from 'vite';
import { defineConfig } from 'vitest/config';
import { patience } from './tests/support/slowdown.ts';

/** The packages' TypeScript is tested directly; only tests of the built command line need a build. */
const fromSource = {
  resolve: { conditions: ['source', ...defaultClientConditions] },
  ssr: { resolve: { conditions: ['source', ...defaultServerConditions] } },
};

/** Tests that start the built `two-thirds` program. */
const commandTests = ['tests/sim/cli/**/*.test.ts', 'tests/examples/**/*.test.ts'];

export default defineConfig({
  test: {
    reporters: ['default', ['json', { outputFile: 'test-results/summary.json' }]],
    coverage: {
      provider: 'v8',
      include: ['packages/*/src/**/*.ts'],
      reporter: ['text-summary', 'html'],
      reportsDirectory: 'coverage',
    },
    projects: [
      {
        ...fromSource,
        test: {
          name: 'node',
          include: ['tests/{sim,notebook,reference}/**/*.test.ts'],
          exclude: commandTests,
          setupFiles: ['tests/support/property-runs.ts'],
          // Many take half a second of a processor, some a few seconds, which can be a minute on a busy machine. A hang still ends.
          testTimeout: 120_000,
          expect: { poll: { timeout: 10_000 } },
        },
      },
      {
        ...fromSource,
        test: {
          name: 'command',
          include: commandTests,
          globalSetup: ['tests/support/built-sim.ts'],
          setupFiles: ['tests/support/property-runs.ts'],
          // Starting the program takes half a second of a processor, and some tests start it several times. A hang still ends.
          testTimeout: 120_000,
        },
      },
      {
        ...fromSource,
        test: {
          name: 'laws',
          include: ['tests/laws/**/*.test.ts'],
          setupFiles: ['tests/support/property-runs.ts'],
          // The slowest laws take 40 ms of a processor a run; on a busy machine that is a fraction of a second. A hang still
          // ends.
          testTimeout: 300_000 + 300 * Number(process.env['LAWS_RUNS'] ?? 0),
        },
      },
      {
        test: {
          name: 'journeys',
          include: ['tests/browser/**/*.journey.test.ts'],
          globalSetup: ['tests/support/notebook-server.ts'],
          // A whole journey can take half a minute of a busy machine, and many times as long of a busier one. A hang still ends.
          testTimeout: 120_000 * patience,
          hookTimeout: 60_000 * patience,
          // What a loaded machine does late is waited for; what never comes fails long before the journey's own limit.
          expect: { poll: { timeout: 10_000 * patience } },
        },
      },
    ],
  },
});
