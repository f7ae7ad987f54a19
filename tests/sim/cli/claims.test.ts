import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { captured } from '../../support/captured-output.ts';
import { documentOf } from '../../support/documents.ts';

const program = join(import.meta.dirname, '../../../packages/sim/bin/two-thirds.js');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-claims-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const boards = { lamp: { ready: 'monostable', values: { 'U1.family': 'ideal' } } };
const claim = {
  id: 'rule',
  kind: 'claim',
  board: 'lamp',
  until: '100 s',
  says: 'width(out) = 1.1 * R1 * C1 within 1 %',
  over: { R1: { from: '100 kΩ', to: '1 MΩ', series: 'E6' }, C1: { from: '1 µF', to: '10 µF', series: 'E6' } },
  trials: 60,
};
const fails = { ...claim, id: 'short', over: { R1: { from: '10 kΩ', to: '1 MΩ', series: 'E6' } } };

function file(name: string, page: readonly unknown[]): string {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(documentOf(boards, page)));
  return path;
}

// Times are for a machine that does other things as well.
describe('two-thirds compute FILE with claims', () => {
  test('prints a claim that holds, with status 0', async () => {
    const holding = { ...claim, over: { R1: claim.over.R1 } };
    const { status, out, messages } = await captured(['compute', file('holds.tt.json', [holding])]);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out);
    expect(text).toContain('rule: claim about lamp, each run from 0 s until 100 s\n  Holds: width(out) = 1.1');
    expect(text).toMatch(/\n {2}R1 {15}100 kΩ to 1 MΩ {2}100 kΩ to 1 MΩ {2}0\.12\d* %\n/);
    expect(text).toContain('It holds in all of 60 trials (seed 1).');
  });

  test('prints the counterexample of a claim that fails, one message, and status 1', async () => {
    const { status, out, messages } = await captured(['compute', file('fails.tt.json', [fails])]);
    expect(status).toBe(1);
    expect(messages).toEqual(['short: the claim "width(out) = 1.1 * R1 * C1 within 1 %" fails, with R1 changed.']);
    expect(plain(out)).toMatch(
      /Counterexample:\n {4}R1 {13}10 kΩ\n {4}width\(out\) {5}200 ms\n {4}1\.1 \* R1 \* C1 {2}110 ms\n/,
    );
  });

  test('prints JSON alone on stdout at status 1 as well, and writes tables', async () => {
    const to = join(folder, 'csv');
    const path = file('tables.tt.json', [fails]);
    const { status, out } = await captured(['compute', path, '--json', '--csv', to]);
    expect(status).toBe(1);
    const { results } = JSON.parse(out) as { results: { short: { ok: boolean; counterexample: { values: object } } } };
    expect([results.short.ok, results.short.counterexample.values]).toEqual([true, { R1: 10e3 }]);
    expect(readFileSync(join(to, 'short.counterexample.csv'), 'utf8').trimEnd().split(/\r?\n/)).toEqual([
      'value,at,unit',
      'R1,10000,Ω',
    ]);
  });

  test('gives the same, byte for byte, with any number of threads and from parts', async () => {
    const path = file('threads.tt.json', [claim, fails]);
    const { out } = await captured(['compute', path, '--json']);
    const run = spawnSync(process.execPath, [program, 'compute', path, '--json', '--workers', '3'], {
      encoding: 'utf8',
    });
    expect(run.status).toBe(1);
    expect(run.stdout).toBe(out);
    const parts: string[] = [];
    for (const part of ['1/2', '2/2']) {
      parts.push(join(folder, `part${parts.length}.json`));
      writeFileSync(parts.at(-1) ?? '', (await captured(['compute', path, '--shard', part])).out);
    }
    expect((await captured(['compute', path, '--json', '--merge', parts.join(',')])).out).toBe(out);
  });

  test('loads what draws trials only for pages that have a claim', () => {
    // Node tells every module it loads on stderr when it is asked to.
    const seen = (path: string): string =>
      spawnSync(process.execPath, [program, 'compute', path], {
        encoding: 'utf8',
        env: { ...process.env, NODE_DEBUG: 'esm' },
        maxBuffer: 2 ** 28,
      }).stderr;
    const none = seen(file('none.tt.json', []));
    expect(none).toContain('compute-command');
    expect(none).not.toContain('fast-check');
    expect(seen(file('one.tt.json', [claim]))).toContain('fast-check');
  });
});
