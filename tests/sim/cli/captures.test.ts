import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { captured } from '../../support/captured-output.ts';
import { plain } from '../../support/circuit-issues.ts';
import { documentOf } from '../../support/documents.ts';
import { madeCapture } from '../../support/made-capture.ts';

const program = join(import.meta.dirname, '../../../packages/sim/bin/two-thirds.js');
const wave = { shape: 'square', frequency: 20, high: 10, low: 0, delay: '5 ms' };
const parts = (capacitance: number): { name: string; kind: string; [field: string]: unknown }[] => [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 10, origin: 'isolated' },
  { name: 'R2', kind: 'resistor', a: 'rail', b: 'ground', resistance: 10e3 },
  { name: 'G1', kind: 'signal', plus: 'in', minus: 'ground', resistance: 0, wave },
  { name: 'R1', kind: 'resistor', a: 'in', b: 'timing', resistance: 10e3 },
  { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance },
];
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-captures-'));
  mkdirSync(join(folder, 'pages/data'), { recursive: true });
  const made = { nets: ['timing', 'in'], from: 0, until: 0.12, step: 0.0005, noise: 0.02, seed: 7 };
  const rows = madeCapture({ parts: parts(1.2e-6) }, made);
  writeFileSync(join(folder, 'pages/data/bench.csv'), rows);
  writeFileSync(join(folder, 'outside.csv'), rows);
  symlinkSync(join(folder, 'outside.csv'), join(folder, 'pages/link.csv'));
  writeFileSync(join(folder, 'pages/prose.csv'), 'Measured in the evening.\n');
});
afterAll(() => rmSync(folder, { recursive: true }));

function page(data: string): string {
  const cell = { id: 'bench', kind: 'capture', board: 'charger', until: '0.15 s', data, adjust: ['C1'] };
  const path = join(folder, 'pages/page.tt.json');
  writeFileSync(path, JSON.stringify(documentOf({ charger: { parts: parts(1e-6) } }, [cell])));
  return path;
}

// Times are for a machine that does other things as well.
describe('two-thirds compute FILE with captures', () => {
  test('reads the file beside the document, and prints the comparison', async () => {
    const { status, out, messages } = await captured(['compute', page('data/bench.csv')]);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out);
    expect(text).toContain('bench: charger as measured and as predicted, the run 0 s to 150 ms');
    expect(text).toContain("An oscilloscope's ground clip is usually mains earth");
    expect(text).toContain('240 rows of data/bench.csv');
    expect(text).toMatch(/\n {2}\S+ +(high|low) +\S+ ms +\S+ ms +none\n/);
    expect(text).toMatch(/C1 is 1\.(19|20)\d* µF with a standard uncertainty/);
    expect(text).toMatch(
      /1 {2}(C1 would have to be 1\.(19|20)\d* µF|R1 would have to be 1[12]\.\d* kΩ), (19|20) % above/,
    );
  });

  test('writes samples, edges, explanations and estimates as CSV', async () => {
    const to = join(folder, 'csv');
    await captured(['compute', page('data/bench.csv'), '--csv', to]);
    const lines = (name: string): string[] => readFileSync(join(to, name), 'utf8').trimEnd().split(/\r?\n/);
    expect(lines('bench.csv')).toHaveLength(241);
    expect(lines('bench.csv')[0]).toMatch(/^time_s,timing_V,timing_low_V,timing_high_V,timing_predicted_V,in_V,/);
    expect(lines('bench.edges.csv')[0]).toBe('net,to,measured_s,uncertainty_s,predicted_s,residual_s');
    expect(lines('bench.edges.csv').length).toBeGreaterThan(5);
    expect(lines('bench.explanations.csv')[0]).toContain('kind,part,value,unit');
    expect(lines('bench.fit.csv')).toHaveLength(2);
  });

  test.each([
    ['../outside.csv', 'a path that leads out of it'],
    ['link.csv', 'a path that leads out of it'],
    ['/etc/hostname', 'a path of its own'],
    ['missing.csv', 'no file of that name'],
    ['data', 'a folder'],
    ['prose.csv', 'none in the first lines'],
  ])('refuses %s: %s', async (data, got) => {
    const { status, messages } = await captured(['compute', page(data), '--json']);
    expect(status).toBe(1);
    expect(messages).toHaveLength(1);
    expect(messages[0]).toMatch(/^page\[0\] \(bench\): data must /);
    expect(messages[0]).toContain(`; got ${got}.`);
  });

  test('takes a file from anywhere where it is named on the command line', async () => {
    const path = page('../outside.csv');
    const given = `bench=${join(folder, 'outside.csv')}`;
    const { status, messages } = await captured(['compute', path, '--capture', given]);
    expect([status, messages]).toEqual([0, []]);
    const mistake = await captured(['compute', path, '--capture', 'outside.csv']);
    expect(mistake.status).toBe(2);
    expect(mistake.messages[0]).toContain('--capture must be followed by cells and files');
  });

  test('gives the same, byte for byte, with several threads', async () => {
    const path = page('data/bench.csv');
    const { out } = await captured(['compute', path, '--json']);
    const run = spawnSync(process.execPath, [program, 'compute', path, '--json', '--workers', '2'], {
      encoding: 'utf8',
    });
    expect([run.status, run.stderr]).toEqual([0, '']);
    expect(run.stdout).toBe(out);
  });
});
