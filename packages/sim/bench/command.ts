import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { preferredPoints } from '../src/study/axis.ts';

/** What else a machine does makes a run longer, never shorter: the least of so many is what it takes. */
const RUNS = 3;

const values = { 'R1.tolerance': '5 %', 'C1.tolerance': '20 %' };
const board = (ready: string, family: string, more: object = {}): object => ({
  ready,
  values: { 'U1.family': family, ...more },
});
const spread = { kind: 'spread', until: '8 s', take: { width: 'width(out)' }, samples: 10_000 };
/** 100 of each, so 10 000 combinations. */
const kit = {
  R1: spaced(10e3, 1e6),
  C1: spaced(1e-7, 1e-5),
};

/** Whole pages, by what is computed in them, and how long that may take as the program is called as a rule (s); a goal of our own. */
const pages: readonly (readonly [what: string, goal: number | undefined, board: object, cell: object])[] = [
  ['10 000 samples of a monostable, ideal', 1, board('monostable', 'ideal', values), spread],
  ['10 000 samples of a monostable, bipolar', 1, board('monostable', 'bipolar', values), spread],
  [
    '10 000 combinations of a monostable',
    2,
    board('monostable', 'ideal'),
    { kind: 'swaps', until: '20 s', take: { width: 'width(out)' }, parts: kit },
  ],
  [
    '10 000 combinations of a divider',
    2,
    board('frequency divider', 'ideal'),
    { kind: 'swaps', until: '4 s', take: { ratio: 'ratio(out, in)' }, parts: kit },
  ],
  [
    'a map of 100 x 100 ratios of a divider, with boundaries',
    undefined,
    board('frequency divider', 'ideal'),
    {
      kind: 'map',
      until: '4 s',
      x: { value: 'R1', from: '10 kΩ', to: '100 kΩ', steps: 99 },
      y: { value: 'G1.wave.period', from: '50 ms', to: '200 ms', steps: 99 },
      take: { ratio: 'ratio(out, in)' },
    },
  ],
];

/**
 * What whole pages take by the command line, the start of the program and of its threads included, by the clock: as a user
 * gets it who asks for no number of threads, by which the goal is judged; with one thread, and with as many as there are
 * processors, and how many times as fast that is.
 *
 * @param program path of the built program.
 */
export function* wholePages(program: string): Generator<string> {
  const folder = mkdtempSync(join(tmpdir(), 'two-thirds-bench-'));
  const threads = Math.max(2, availableParallelism());
  try {
    for (const [what, goal, given, cell] of pages) {
      const file = join(folder, 'page.tt.json');
      const page = { format: 'two-thirds', version: 1, title: what, boards: { b: given } };
      writeFileSync(file, JSON.stringify({ ...page, page: [{ id: 'study', board: 'b', ...cell }] }));
      const [usual, one, all] = [undefined, 1, threads].map((workers) => leastTime(program, file, workers)) as [
        Taken,
        Taken,
        Taken,
      ];
      const verdict = goal === undefined ? '' : `, goal ${goal} s: ${usual.clock <= goal ? 'reached' : 'NOT reached'}`;
      const ratio = (one.clock / all.clock).toFixed(2);
      yield `${what}: ${told(usual)}${verdict}; with 1 thread ${told(one)}, with ${threads} ${told(all)}, ${ratio} times as fast`;
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Has the program tell at its end what it took of the processors, its threads included (µs). */
const TELL =
  'data:text/javascript,import{writeSync}from"node:fs";process.on("exit",()=>{const{user,system}=process.cpuUsage();writeSync(2,`\\nprocessor ${user+system}\\n`)})';

/** What a run takes by the clock and of the processors (s). */
interface Taken {
  readonly clock: number;
  readonly processor: number;
}

function told({ clock, processor }: Taken): string {
  return `${clock.toFixed(2)} s (${processor.toFixed(2)} s of the processors)`;
}

/** Least time by the clock, and least of the processors, of several runs; as many threads as the program likes, if undefined. */
function leastTime(program: string, file: string, threads: number | undefined): Taken {
  let [clock, processor] = [Infinity, Infinity];
  for (let run = 0; run < RUNS; run++) {
    const begun = process.hrtime.bigint();
    const workers = threads === undefined ? [] : ['--workers', String(threads)];
    const argv = ['--import', TELL, program, 'compute', file, '--json', ...workers];
    const { status, stderr } = spawnSync(process.execPath, argv, { maxBuffer: 2 ** 28, encoding: 'utf8' });
    if (status !== 0) throw new Error(`wholePages: the program must end well; got status ${status}. ${stderr}`);
    clock = Math.min(clock, Number(process.hrtime.bigint() - begun) / 1e9);
    const tellings = [...stderr.matchAll(/^processor (\d+)$/gm)].map(([, microseconds]) => Number(microseconds) / 1e6);
    processor = Math.min(processor, Math.max(...tellings));
  }
  return { clock, processor };
}

/** 100 values of E192, evenly spaced among those of two decades. */
function spaced(from: number, to: number): number[] {
  const all = preferredPoints(from, to, 'E192');
  return Array.from({ length: 100 }, (_, index) => all[Math.floor((index * all.length) / 100)]!);
}
