/**
 * Bundles the benchmark's TypeScript and runs it in a fresh Node process, so that neither the bundler's memory nor its
 * compiled code is measured along with it. Arguments are passed on: `npm run bench -- ...`.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { build, defaultServerConditions } from 'vite';

const packageFolder = join(import.meta.dirname, '..');
const outDir = join(packageFolder, '../../node_modules/.cache/two-thirds/bench');

await build({
  root: packageFolder,
  configFile: false,
  logLevel: 'warn',
  ssr: { resolve: { conditions: ['source', ...defaultServerConditions] } },
  build: {
    ssr: 'bench/main.ts',
    outDir,
    emptyOutDir: true,
    target: 'node20',
    minify: false,
    // As in the library itself, whose files are not put together: constants stay constants.
    rollupOptions: { output: { topLevelVar: false } },
  },
});

// The collector is exposed so that a benchmark can measure the memory that is really held.
const { status } = spawnSync(process.execPath, ['--expose-gc', join(outDir, 'main.js'), ...process.argv.slice(2)], {
  stdio: 'inherit',
  env: { ...process.env, TWO_THIRDS_PROGRAM: join(packageFolder, 'bin/two-thirds.js') },
});
process.exitCode = status ?? 1;
