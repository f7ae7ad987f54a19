import { relative } from 'node:path';
import { defaultClientConditions, defaultServerConditions } from 'vite';
import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';
import { groups } from './tools/mutation/groups.js';

/** The group of files whose mutants are judged, as `npm run mutate` names it; without it the tests of all. */
const group = groups[process.env['MUTATED'] ?? ''];
const judges = group?.tests ?? Object.values(groups).flatMap(({ tests }) => tests);

/** How long each file took (ms) when all of it was run first. */
const durations = new Map<string, number>();

/** Quick files first: most mutants fall at once, and the first failure ends their run. */
class QuickFirst extends BaseSequencer {
  override async sort(files: Parameters<BaseSequencer['sort']>[0]): ReturnType<BaseSequencer['sort']> {
    const durationOf = ({ moduleId, project }: (typeof files)[number]): number => {
      const key = `${project.name}:${relative(this.ctx.config.root, moduleId)}`;
      // A file that was not reached counts as 0 ms.
      const known = durations.get(key) ?? this.ctx.cache.getFileTestResults(key)?.duration ?? 0;
      if (known > 0) durations.set(key, known);
      return known > 0 ? known : Number.MAX_VALUE;
    };
    return Promise.resolve([...files].sort((p, q) => durationOf(p) - durationOf(q)));
  }
}

/** The tests that judge mutants, in one thread. */
export default defineConfig({
  resolve: { conditions: ['source', ...defaultClientConditions] },
  ssr: { resolve: { conditions: ['source', ...defaultServerConditions] } },
  test: {
    include: [...new Set(judges)],
    setupFiles: ['tests/support/property-runs.ts', 'tests/support/first-failure.ts'],
    isolate: false,
    pool: 'threads',
    maxWorkers: 1,
    sequence: { sequencer: QuickFirst },
    testTimeout: 60_000,
  },
});
