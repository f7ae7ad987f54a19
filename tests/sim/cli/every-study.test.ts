import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { captured } from '../../support/captured-output.ts';
import { documentOf } from '../../support/documents.ts';
import { madeCapture } from '../../support/made-capture.ts';
import { astable } from '../../support/timer-circuits.ts';

const program = join(import.meta.dirname, '../../../packages/sim/bin/two-thirds.js');
const lamp = { ready: 'monostable', values: { 'U1.family': 'ideal', 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' } };
/** A flasher without a rule of thumb, so that choosing for it begins with a survey. */
const crossing = { parts: astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-6 }) };
const measured = { parts: astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1.1e-6 }) };
const on = { board: 'lamp', until: '20 s' };
const width = { width: 'width(out)' };
const range = { from: '100 kΩ', to: '1 MΩ' };

/** Every kind of study, each in several jobs. */
const page = [
  { id: 'over', kind: 'sweep', ...on, vary: { value: 'R1', ...range, steps: 12 }, take: width },
  {
    ...{ id: 'regions', kind: 'map', board: 'counter', until: '2 s', take: { ratio: 'ratio(out, in)' } },
    x: { value: 'R1', from: '20 kΩ', to: '60 kΩ', steps: 12 },
    y: { value: 'G1.wave.period', from: '100 ms', to: '200 ms', steps: 9 },
  },
  { id: 'kits', kind: 'spread', ...on, take: width, limits: { width: ['3.9 s', null] }, samples: 120 },
  {
    ...{ id: 'values', kind: 'choose', board: 'crossing', from: '2 s', until: '8 s' },
    adjust: { R2: 'E6', C1: { series: 'E6', from: '1 µF', to: '10 µF' }, R1: ['10 kΩ', '12 kΩ'] },
    want: { blinks: { reading: 'frequency(out)', value: '3 Hz' } },
  },
  {
    ...{ id: 'rule', kind: 'claim', ...on, says: 'width(out) = 1.1 * R1 * C1 within 1 %', trials: 60 },
    over: { R1: { ...range, series: 'E6' }, C1: { from: '1 µF', to: '10 µF', series: 'E6' } },
  },
  { id: 'kit', kind: 'swaps', ...on, parts: { R1: ['220 kΩ', '470 kΩ'], C1: caps(60) }, take: width },
  { id: 'bench', kind: 'symptoms', ...on, take: width, seen: { width: '0.43 s' } },
  {
    ...{ id: 'probe', kind: 'capture', board: 'crossing', until: '0.5 s', adjust: ['C1'] },
    data: madeCapture(measured, { nets: ['timing', 'out'], from: 0, until: 0.4, step: 0.001, noise: 0.02, seed: 3 }),
  },
];
const ids = page.map(({ id }) => id);

function caps(count: number): string[] {
  return Array.from({ length: count }, (_, index) => `${index + 4} µF`);
}

let folder = '';
let path = '';
let whole = '';
let status = 0;
let messages: readonly string[] = [];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-every-study-'));
  path = join(folder, 'page.tt.json');
  writeFileSync(path, JSON.stringify(documentOf({ lamp, counter: { ready: 'frequency divider' }, crossing }, page)));
  ({ out: whole, status, messages } = await captured(['compute', path, '--json']));
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true }));

describe('two-thirds compute FILE with every kind of study', { timeout: 120_000 }, () => {
  test('computes them all', () => {
    // At 100 kΩ and 1 µF the press, which is longer than the interval, holds the output: the claim is made simpler.
    expect(status).toBe(1);
    const { results } = JSON.parse(whole) as { results: Record<string, { kind: string; ok: boolean }> };
    expect(ids.map((id) => [results[id]?.kind, results[id]?.ok])).toEqual(page.map(({ kind }) => [kind, true]));
  });

  // Without a number of threads there are as many as are worth their start: all the machine has, for a page of so many studies.
  test.each(['', '--workers 1', '--workers 3'])('gives the same, byte for byte, with "%s"', (workers) => {
    const args = [program, 'compute', path, '--json', ...workers.split(' ').filter((word) => word !== '')];
    const run = spawnSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 2 ** 28 });
    expect([run.status, run.stderr]).toEqual([status, `${messages.join('\n')}\n`]);
    expect(run.stdout).toBe(whole);
  });

  test('gives the same, byte for byte, from three parts computed apart, in which each job was run once', async () => {
    const files: string[] = [];
    const ran = new Map<string, number[]>(ids.map((id) => [id, []]));
    for (const part of ['1/3', '2/3', '3/3']) {
      const shard = await captured(['compute', path, '--shard', part]);
      expect(shard.status).toBe(0);
      const { jobs } = JSON.parse(shard.out) as { jobs: Record<string, [number, unknown][]> };
      for (const [id, rows] of Object.entries(jobs)) ran.get(id)?.push(...rows.map(([index]) => index));
      files.push(join(folder, `part${files.length}.json`));
      writeFileSync(files.at(-1) ?? '', shard.out);
    }
    for (const [id, numbers] of ran) {
      expect(numbers.length, `${id} is in several jobs`).toBeGreaterThan(2);
      const each = [...new Set(numbers)].sort((a, b) => a - b);
      expect(each, id).toEqual(Array.from(each, (_, index) => index));
      // The survey of a choice, from which all its other jobs follow, belongs to every part.
      if (id === 'values') expect(numbers.filter((index) => index === 1)).toEqual([1, 1, 1]);
      else expect(numbers.length, id).toBe(each.length);
    }
    expect((await captured(['compute', path, '--json', '--merge', files.join(',')])).out).toBe(whole);
  });
});
