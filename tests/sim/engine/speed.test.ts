import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';

// The limits are calls of Math.exp per event, see packages/sim/bench/main.ts; a slow or busy machine slows both alike. It
// takes some 18 s of a processor, which can be minutes where many others run.
test('npm run bench -- --limits finds the cost of an event within its limits', { timeout: 300_000 }, () => {
  const bench = join(import.meta.dirname, '../../../packages/sim/bench/run.js');
  const { status, stdout, stderr } = spawnSync(process.execPath, [bench, '--limits'], { encoding: 'utf8' });
  expect(stdout.match(/allowed [\d.]+ x: kept/g), stdout + stderr).toHaveLength(7);
  expect(status, stdout + stderr).toBe(0);
});
