import { spawn, spawnSync } from 'node:child_process';
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
  folder = mkdtempSync(join(tmpdir(), 'two-thirds-studies-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const boards = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal' } } };
const ratio = { ratio: 'ratio(out, in)' };
const sweep = {
  id: 'over',
  kind: 'sweep',
  board: 'counter',
  until: '3 s',
  vary: { value: 'R1', from: '20 kΩ', to: '40 kΩ', steps: 10 },
  take: { ...ratio, width: 'width(out)' },
};
const map = {
  id: 'regions',
  kind: 'map',
  board: 'counter',
  until: '3 s',
  x: { value: 'R1', from: '20 kΩ', to: '40 kΩ', steps: 10 },
  y: { value: 'G1.wave.period', from: '100 ms', to: '200 ms', steps: 4 },
  take: ratio,
};

function file(name: string, page: readonly unknown[]): string {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(documentOf(boards, page)));
  return path;
}

// Times are for a machine that does other things as well.
describe('two-thirds compute FILE with sweeps and maps', { timeout: 180_000 }, () => {
  test('prints tables, jumps, boundaries and what was found in words', async () => {
    const { status, out, messages } = await captured(['compute', file('text.tt.json', [sweep, map])]);
    expect([status, messages]).toEqual([0, []]);
    const text = plain(out);
    expect(text).toContain('over: counter over R1, each run 0 s to 3 s\n  R1       ratio  width   fates at U1\n');
    expect(text).toMatch(/\n {2}20\.0 kΩ {2}1 {6}103 ms {2}started\n/);
    // T = R C ln 3 = 150 ms at 0.15 / (4.7e-6 · 1.0986122887) = 29.050188 kΩ (closed form, ideal family).
    expect(text).toMatch(/29\.05018\d* kΩ {2}ratio: 1 -> 2; fates at U1: started -> started, 1/);
    expect(text).toContain('regions: counter over R1 and G1 period, each run 0 s to 3 s');
    expect(text).toMatch(/\n {2}1 \| 2 {2}\d+ points from \(/);
    expect(text).toMatch(/ratio over R1 from 20\.0 kΩ to 40\.0 kΩ and\s+G1\s+period\s+from 100 ms to 200 ms/);
  });

  test('prints a rule of thumb beside its reading', async () => {
    const { status, out } = await captured(['compute', file('rule.tt.json', [{ ...sweep, against: '1.1 * R1 * C1' }])]);
    expect(status).toBe(0);
    const text = plain(out);
    expect(text).toContain('\n  R1       ratio  width   by the rule  error');
    // 1.1 · 20 kΩ · 4.7 µF = 103.4 ms, ideal R C ln 3 is 0.126 % below it (closed form).
    expect(text).toMatch(/\n {2}20\.0 kΩ {2}1 {6}103 ms {2}103 ms {7}−0\.126 % /);
    expect(text).toMatch(/width is furthest from 1\.1 \* R1 \* C1\s+at/);
  });

  test('writes the tables, marks and lines as CSV', async () => {
    const to = join(folder, 'csv');
    await captured(['compute', file('csv.tt.json', [sweep, map]), '--csv', to]);
    const lines = (name: string): string[] => readFileSync(join(to, name), 'utf8').trimEnd().split(/\r?\n/);
    expect(lines('over.csv')[0]).toBe('R1_Ω,ratio,width_s,fates_U1');
    expect(lines('over.csv')).toHaveLength(12);
    expect(lines('over.marks.csv')[0]).toBe('below_Ω,above_Ω,what,name,value_below,value_above');
    expect(lines('over.marks.csv').length).toBeGreaterThan(1);
    expect(lines('regions.csv')[0]).toBe('R1_Ω,G1.wave.period_s,ratio,uneven');
    expect(lines('regions.csv')).toHaveLength(1 + 11 * 5);
    expect(lines('regions.lines.csv')[0]).toBe('boundary,line,R1_Ω,G1.wave.period_s');
  });

  test('gives the same, byte for byte, with any number of threads', async () => {
    const path = file('threads.tt.json', [sweep, map]);
    const { out } = await captured(['compute', path, '--json']);
    for (const workers of ['1', '3']) {
      const run = spawnSync(process.execPath, [program, 'compute', path, '--json', '--workers', workers], {
        encoding: 'utf8',
      });
      expect([run.status, run.stderr]).toEqual([0, '']);
      expect(run.stdout).toBe(out);
    }
  });

  test.each(['0', '2'])('ends on an interrupt with what it has, with %s threads', async (workers) => {
    const steps = { steps: 400 };
    // Widths take the general engine through every run: far longer than anybody waits.
    const page = [
      { ...map, until: '30 s', x: { ...map.x, ...steps }, y: { ...map.y, ...steps }, take: { width: 'width(out)' } },
    ];
    const path = file('long.tt.json', page);
    const { status, out, message } = await interrupted(['compute', path, '--json', '--workers', workers], 2000);
    expect(status).toBe(1);
    const { results } = JSON.parse(out) as { results: { regions: { ok: boolean; partial: { share: number } } } };
    expect(results.regions.ok).toBe(false);
    expect(results.regions.partial.share).toBeLessThan(1);
    expect(message).toContain('the study was stopped after');
  });

  test('hears an interrupt in the middle of a job', async () => {
    // One job of five runs, in each of which hum of 49.7 Hz moves every period of a flasher by a little: some seconds.
    const hum = { shape: 'sine', frequency: '49.7 Hz', amplitude: '1 V', offset: '0 V' };
    const pins = {
      supply: 'rail',
      ground: 'ground',
      trigger: 'timing',
      output: 'out',
      threshold: 'timing',
      discharge: 'middle',
    };
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
      { name: 'U1', kind: 'timer', family: 'bipolar', pins },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'middle', resistance: '1 kΩ' },
      { name: 'R2', kind: 'resistor', a: 'middle', b: 'timing', resistance: '10 kΩ' },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '1 µF' },
      { name: 'G1', kind: 'signal', plus: 'hum', minus: 'ground', wave: hum },
      { name: 'R3', kind: 'resistor', a: 'hum', b: 'timing', resistance: '1 MΩ' },
    ];
    const vary = { value: 'R1', from: '1 kΩ', to: '2 kΩ', steps: 4 };
    const page = [
      { id: 'over', kind: 'sweep', board: 'flasher', until: '1000 s', vary, take: { period: 'period(out)' } },
    ];
    const path = join(folder, 'one-job.tt.json');
    writeFileSync(path, JSON.stringify(documentOf({ flasher: { parts } }, page)));
    const argv = ['compute', path, '--json'];
    const ended = await interrupted(argv, 4000);
    const { status, message } = ended;
    expect([status, message]).toEqual([1, expect.stringContaining('stopped after 0 of its 1 jobs')]);
    // A tenth of a second on a quiet machine.
    expect(await quickestEnd(argv, ended, 2000)).toBeLessThan(2000);
  });

  test('hears an interrupt in the middle of the run of a trace, and prints what there is', async () => {
    // A sine at CONTROL moves every period by a little, so that none can be counted: it would take minutes.
    const hum = { shape: 'sine', frequency: '49.7 Hz', amplitude: '1 V', offset: '0 V' };
    const pins = { supply: 'rail', ground: 'ground', trigger: 'timing', threshold: 'timing', discharge: 'middle' };
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
      { name: 'U1', kind: 'timer', family: 'bipolar', pins: { ...pins, output: 'out', control: 'control' } },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'middle', resistance: '1 kΩ' },
      { name: 'R2', kind: 'resistor', a: 'middle', b: 'timing', resistance: '10 kΩ' },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '100 nF' },
      { name: 'G1', kind: 'signal', plus: 'hum', minus: 'ground', wave: hum },
      { name: 'R3', kind: 'resistor', a: 'hum', b: 'control', resistance: '10 kΩ' },
    ];
    const long = { board: 'flasher', until: '20000 s' };
    const page = [
      { id: 'look', kind: 'trace', ...long, show: ['out'] },
      { id: 'count', kind: 'reading', ...long, take: { rises: 'count(out)' } },
      { id: 'note', kind: 'note', text: 'Said at once.' },
    ];
    const path = join(folder, 'long-run.tt.json');
    writeFileSync(path, JSON.stringify(documentOf({ flasher: { parts } }, page)));
    const argv = ['compute', path, '--json'];
    type Results = Record<string, { ok: boolean; partial?: { values?: { rises: number } } }>;
    const resultsOf = ({ out }: Ended): Results => (JSON.parse(out) as { results: Results }).results;
    const risesOf = (one: Ended): number => resultsOf(one)['count']?.partial?.values?.rises ?? 0;
    let ended = await interrupted(argv, 5000);
    // A busy machine may have had no time for the run by then.
    for (let after = 10_000; risesOf(ended) <= 100 && after <= 40_000; after *= 2)
      ended = await interrupted(argv, after);
    const { status, message } = ended;
    expect([status, message]).toEqual([1, expect.stringContaining('The run was stopped.')]);
    const results = resultsOf(ended);
    expect([results['look']?.ok, results['count']?.ok, results['note']?.ok]).toEqual([false, false, true]);
    expect(risesOf(ended)).toBeGreaterThan(100);
    // A tenth of a second on a quiet machine.
    expect(await quickestEnd(argv, ended, 3000)).toBeLessThan(3000);
  });

  test('gives the same, byte for byte, from parts computed apart', async () => {
    const path = file('parts.tt.json', [sweep, map]);
    const parts: string[] = [];
    for (const part of ['1/2', '2/2']) {
      const { status, out, messages } = await captured(['compute', path, '--shard', part]);
      expect([status, messages]).toEqual([0, []]);
      parts.push(join(folder, `part${parts.length}.json`));
      writeFileSync(parts.at(-1) ?? '', out);
    }
    const whole = await captured(['compute', path, '--json']);
    expect((await captured(['compute', path, '--json', '--merge', parts.join(',')])).out).toBe(whole.out);
    // What is missing is run.
    expect((await captured(['compute', path, '--json', '--merge', parts[0] ?? ''])).out).toBe(whole.out);
    const other = await captured(['compute', file('other.tt.json', [sweep]), '--merge', parts[0] ?? '']);
    expect([other.status, other.messages[0]]).toEqual([2, expect.stringContaining('must belong to this document')]);
    const missing = await captured(['compute', path, '--merge', `${path}.none`]);
    expect([missing.status, missing.messages[0]]).toEqual([
      2,
      expect.stringMatching(/\.none must be a file that can be read; got none that can\. Correct its name\.$/),
    ]);
    const none = await captured(['compute', path, '--merge', path]);
    expect([none.status, none.messages[0]]).toEqual([2, expect.stringContaining('must be a file of jobs')]);
  });

  test('runs each job in just one part', async () => {
    const path = file('shares.tt.json', [sweep]);
    const numbers: number[] = [];
    for (const part of ['1/2', '2/2']) {
      const { out } = await captured(['compute', path, '--shard', part]);
      const { jobs } = JSON.parse(out) as { jobs: { over: [number, unknown][] } };
      numbers.push(...jobs.over.map(([index]) => index));
    }
    // 10 steps, 4 of them a job.
    expect(numbers).toEqual([0, 2, 1]);
  });

  test('refuses parts that are none', async () => {
    for (const part of ['3/2', '0/2', 'half']) {
      const { status, messages } = await captured(['compute', 'x.tt.json', '--shard', part]);
      expect(status).toBe(2);
      expect(messages[0]).toContain(
        `--shard must be followed by a part and the number of parts, such as 2/3; got "${part}"`,
      );
    }
    const both = await captured(['compute', 'x.tt.json', '--shard', '1/2', '--json']);
    expect(both.out).toContain('must be left out with --shard');
  });

  test('refuses numbers of threads that are none', async () => {
    const { status, messages } = await captured(['compute', 'x.tt.json', '--workers', 'many']);
    expect(status).toBe(2);
    expect(messages[0]).toContain('--workers must be followed by a whole number from 0 to 256; got "many".');
    expect((await captured(['check', 'x.tt.json', '--workers', '2'])).messages[0]).toContain('it belongs to compute');
  });
});

interface Ended {
  /** From the interrupt to the end (ms). */
  readonly took: number;
  readonly status: number | null;
  readonly signal: string | null;
  readonly out: string;
  readonly message: string;
}

/**
 * Starts the built program, interrupts it after some time (ms) and waits for its end. An interrupt that comes while the
 * program is still being loaded, on a busy machine, just ends it: then it is given more time.
 */
async function interrupted(argv: readonly string[], after: number): Promise<Ended> {
  const ended = await interruptedOnce(argv, after);
  return ended.signal === 'SIGINT' && after < 10_000 ? interrupted(argv, 2 * after) : ended;
}

/** The least time from the interrupt to the end (ms) of some runs: what else the machine does makes it longer, never shorter. */
async function quickestEnd(argv: readonly string[], first: Ended, limit: number): Promise<number> {
  let least = first.took;
  for (let more = 0; more < 2 && least >= limit; more++) {
    least = Math.min(least, (await interrupted(argv, 5000)).took);
  }
  return least;
}

function interruptedOnce(argv: readonly string[], after: number): Promise<Ended> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [program, ...argv]);
    let out = '';
    let message = '';
    child.stdout.on('data', (data) => void (out += String(data)));
    child.stderr.on('data', (data) => void (message += String(data)));
    let sent = 0;
    child.on('close', (status, signal) => resolve({ took: performance.now() - sent, status, signal, out, message }));
    setTimeout(() => {
      sent = performance.now();
      child.kill('SIGINT');
    }, after);
  });
}
