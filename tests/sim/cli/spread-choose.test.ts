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
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-spread-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const values = { 'U1.family': 'ideal', 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' };
const boards = { lamp: { ready: 'monostable', values } };
const spread = {
  id: 'kits',
  kind: 'spread',
  board: 'lamp',
  until: '8 s',
  take: { width: 'width(out)', rises: 'count(out)' },
  limits: { width: ['3.9 s', null] },
  samples: 60,
};
const choose = {
  id: 'values',
  kind: 'choose',
  board: 'lamp',
  until: '12 s',
  want: { width: { reading: 'width(out)', value: '4.5 s', within: '5 %' } },
  adjust: { R1: { series: 'E6', from: '100 kΩ', to: '1 MΩ' }, C1: ['10 µF'] },
  stock: ['10 µF', '470 kΩ'],
};

function file(name: string): string {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(documentOf(boards, [spread, choose])));
  return path;
}

// Times are for a machine that does other things as well.
describe('two-thirds compute FILE with spreads and choices', () => {
  test('prints ranges, histograms, ranked sets and what was found in words', async () => {
    const { status, out, messages } = await captured(['compute', file('text.tt.json')]);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out);
    expect(text).toContain('kits: lamp within its tolerances, 60 samples, each run 0 s to 8 s\n');
    expect(text).toContain('  R1  371 kΩ to 410 kΩ    tolerance of R1, 5 %\n');
    // 390 kΩ · 10 µF · ln 3 = 4.2846 s, times 0.95 · 0.8 and 1.05 · 1.2 (closed form, ideal family).
    expect(text).toContain('  width, width(out): worst case 3.26 s to 5.40 s\n');
    expect(text).toMatch(/\n {2}\d\.\d\d s +\d+ {2}#+\n/);
    // One press, one rise: a single bin for the whole number 1.
    expect(text).toMatch(/rises, count\(out\): worst case 1 to 1\n {2}1 {2}60 {2}#{40}\n/);
    expect(text).toContain('values: values for lamp, 7 sets, each run 0 s to 12 s\n');
    // 470 kΩ · 10 µF · ln 3 = 5.1635 s, 390 kΩ is not in E6; 330 kΩ gives 3.6254 s, 19 % short (closed form).
    expect(text).toMatch(/\n {2}R1 470 kΩ and C1 10 µF +5\.16 s +\+15 % +not near enough, in stock\n/);
    expect(text).toContain('The best of each series:');
    // 390 kΩ, of E12, gives 4.2846 s: 4.8 % short (closed form).
    expect(text).toMatch(/\n {2}E12 {2}R1 390 kΩ and C1 10 µF +4\.28 s +−4\.8 %\n/);
  });

  test('writes distribution, histogram, causes and ranked sets as CSV', async () => {
    const to = join(folder, 'csv');
    await captured(['compute', file('csv.tt.json'), '--csv', to]);
    const lines = (name: string): string[] => readFileSync(join(to, name), 'utf8').trimEnd().split(/\r?\n/);
    expect(lines('kits.csv')[0]).toMatch(/^reading,unit,now,count,missing,mean,deviation,least,greatest,q0\.005,/);
    expect(lines('kits.csv')).toHaveLength(3);
    const counts = lines('kits.bins.csv').flatMap((line) =>
      line.startsWith('width') ? [Number(line.split(',')[3])] : [],
    );
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(60);
    expect(lines('kits.parts.csv')[0]).toBe('value,unit,now,least,greatest,source,share_width,share_rises');
    expect(lines('values.csv')[0]).toBe('R1_Ω,C1_F,width_s,off_width,error,granted,in_stock');
    expect(lines('values.precision.csv').map((line) => line.split(',')[0])).toEqual(['series', 'E6', 'E12', 'E24']);
  });

  test('gives the same, byte for byte, with any number of threads', async () => {
    const path = file('threads.tt.json');
    const { out } = await captured(['compute', path, '--json']);
    for (const workers of ['1', '3']) {
      const run = spawnSync(process.execPath, [program, 'compute', path, '--json', '--workers', workers], {
        encoding: 'utf8',
      });
      expect([run.status, run.stderr]).toEqual([0, '']);
      expect(run.stdout).toBe(out);
    }
  });
});
