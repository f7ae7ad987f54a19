import { readFileSync } from 'node:fs';
import { defaultClientConditions, defaultServerConditions } from 'vite';
import { defineConfig } from 'vitest/config';
import { BaseSequencer } from 'vitest/node';
import { folders } from './tools/mutation/folders.js';

/** The folder whose mutants are judged, as `npm run mutate` names it; without it all their tests. */
const folder = process.env['MUTATED'] ?? '';
const judges = folders[folder]?.tests ?? Object.values(folders).flatMap(({ tests }) => tests);

/** Single cases before generated ones, a folder's own tests before others: most mutants fall at once, and that ends their run. */
class QuickFirst extends BaseSequencer {
  override async sort(files: Parameters<BaseSequencer['sort']>[0]): ReturnType<BaseSequencer['sort']> {
    const place = (path: string): number =>
      (readFileSync(path, 'utf8').includes("from 'fast-check'") ? 4 : 0) +
      (path.includes('/tests/sim/') ? 0 : 2) +
      (path.includes(`/${folder}/`) ? 0 : 1);
    return Promise.resolve([...files].sort((p, q) => place(p.moduleId) - place(q.moduleId)));
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
