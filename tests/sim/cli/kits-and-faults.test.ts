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
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-kits-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const boards = { lamp: { ready: 'monostable', values: { 'U1.family': 'ideal' } } };
const take = { width: 'width(out)', lamp: 'peak_current(D1)' };
const common = { board: 'lamp', until: '20 s', take };
const kit = { id: 'kit', kind: 'swaps', ...common, parts: { R3: ['680 Ω', '47 Ω'], C1: ['10 µF', '10.1 µF'] } };
const bench = { id: 'bench', kind: 'symptoms', ...common, seen: { width: '0.43 s', lamp: '14.3 mA' } };

function file(name: string, page: readonly unknown[]): string {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(documentOf(boards, page)));
  return path;
}

// Times are for a machine that does other things as well.
describe('two-thirds compute FILE with swaps and symptoms', () => {
  test('opens both tables with the caution, then lists combinations, flags and remedies', async () => {
    const { status, out, messages } = await captured(['compute', file('kit.tt.json', [kit])]);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out);
    expect(text).toContain('kit: what can be plugged into lamp, each run 0 s to 20 s\n  Hot or smelling: switch off');
    expect(text).toMatch(/\n {2}1 {2}680 Ω {2}10 µF {4}4\.28 s {2}14\.3 mA\n/);
    expect(text).toMatch(/\n {2}2 {2}680 Ω {2}10\.1 µF {2}4\.33 s {2}14\.3 mA {2}as 1\n/);
    expect(text).toMatch(/\n {2}3 {2}47 Ω {3}10 µF {4}- {7}- {8}unsafe\n/);
    expect(text.replaceAll(/\s+/g, ' ')).toContain('R3 of 510 Ω or more would prevent it.');
  });

  test('lists what one would see of each fault, what looks alike and what fits', async () => {
    const { status, out } = await captured(['compute', file('bench.tt.json', [bench])]);
    const text = plain(out).replaceAll(/ +/g, ' ');
    expect(status).toBe(0);
    expect(text).toContain('bench: what single faults of lamp look like, each run 0 s to 20 s\n Hot or smelling');
    expect(text).toContain('\n as built 4.28 s 14.3 mA\n');
    expect(text).toContain('\n R3 shorted 4.28 s 980 mA do not build\n');
    expect(text).toContain('\n R3 shorted R3 is what keeps the current of D1 small.\n');
    expect(text).toContain('\n - R1 39 kΩ instead of 390 kΩ; C1 1 µF instead of 10 µF\n');
    expect(text).toMatch(/the best first:\n off by 0\.\d+ % (R1 39 kΩ|C1 1 µF) instead of /);
  });

  test('writes tables as CSV, in SI units', async () => {
    const to = join(folder, 'csv');
    await captured(['compute', file('csv.tt.json', [kit, bench]), '--csv', to]);
    const lines = (name: string): string[] => readFileSync(join(to, name), 'utf8').trimEnd().split(/\r?\n/);
    expect(lines('kit.csv')[0]).toBe('combination,R3,C1,width_s,lamp_A,flags,same_as,remedy,words');
    expect(lines('kit.csv')).toHaveLength(5);
    expect(plain(lines('kit.csv')[1] ?? '')).toMatch(/^1,680 Ω,10 µF,4\.28\d{5,},0\.0143\d+,,,,$/);
    expect(lines('bench.csv')[0]).toContain('part,what,fault,width_s,lamp_A,mean(rail)_V,');
    expect(lines('bench.csv')[1]).toMatch(/^,,as built,4\.28\d+,/);
    expect(lines('bench.groups.csv')[0]).toBe('group,fault,told_apart_by,into');
    expect(lines('bench.ranked.csv')[0]).toBe('fault,off');
    expect(lines('bench.ranked.csv').length).toBe(lines('bench.csv').length);
  });

  test('gives the same, byte for byte, with any number of threads', async () => {
    const path = file('threads.tt.json', [kit, bench]);
    const { out } = await captured(['compute', path, '--json']);
    expect((JSON.parse(out) as { results: Record<string, { ok: boolean }> }).results['bench']?.ok).toBe(true);
    for (const workers of ['1', '3']) {
      const run = spawnSync(process.execPath, [program, 'compute', path, '--json', '--workers', workers], {
        encoding: 'utf8',
      });
      expect([run.status, run.stderr]).toEqual([0, '']);
      expect(run.stdout).toBe(out);
    }
  });

  test('refuses a product that is too large, with its number', async () => {
    const values = Array.from({ length: 200 }, (_, index) => `${index + 1} kΩ`);
    const huge = { ...kit, parts: { R1: values, R2: values, R3: values } };
    const { status, messages, out } = await captured(['compute', file('huge.tt.json', [huge])]);
    expect(status).toBe(1);
    expect(plain([...messages, out].join(' ')).replaceAll(/\s+/g, ' ')).toContain('got 200 x 200 x 200 = 8000000.');
  });
});
