import { StudyClient } from '#notebook/worker/study-client.ts';
import type { CellResult } from '#sim/document/index.ts';
import {
  type Arbitrary,
  array,
  assert,
  asyncProperty,
  constant,
  constantFrom,
  integer,
  nat,
  oneof,
  record,
  tuple,
} from 'fast-check';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { type MadeResult, type MadeStudy, MadeWorkers } from '../../support/made-study-worker.ts';

const CELLS = ['sweep', 'map', 'kit'] as const;

/** What an edit does to a cell: `touch` leaves its jobs as they are, `back` brings the former ones back. */
const change = constantFrom('keep', 'keep', 'touch', 'change', 'back', 'fault', 'remove');
const step = oneof(
  { weight: 3, arbitrary: record({ what: constant('edit' as const), changes: tuple(change, change, change) }) },
  {
    weight: 8,
    arbitrary: record({ what: constant('answer' as const), which: nat(7), times: integer({ min: 1, max: 4 }) }),
  },
  { weight: 4, arbitrary: record({ what: constant('wait' as const), time: constantFrom(10, 100, 160, 300, 700) }) },
  { weight: 1, arbitrary: record({ what: constantFrom('stop' as const, 'again' as const, 'clear' as const) }) },
  { weight: 1, arbitrary: record({ what: constant('rest' as const) }) },
  { weight: 1, arbitrary: record({ what: constantFrom('lose' as const, 'refuse' as const), which: nat(7) }) },
);
type Step = typeof step extends Arbitrary<infer Drawn> ? Drawn : never;

type Phase = 'waiting' | 'current' | 'stopped';

/** A page as far as its studies know it, which holds what it is told against what it has asked. */
class MadePage {
  readonly workers = new MadeWorkers();
  readonly faults = this.workers.faults;
  private readonly client: StudyClient;
  private readonly cells = new Map<string, { study: MadeStudy; phase: Phase }>();
  private readonly former = new Map<string, MadeStudy>();
  private edits = 0;
  private lineages = 0;
  /** Whether nothing is asked: nothing may be told. */
  private isQuiet = true;
  private isSettled = true;

  constructor(size: number) {
    const told = (what: string): void => {
      if (this.isQuiet) this.faults.push(`${what} is told though nothing is asked`);
    };
    this.client = new StudyClient(this.workers.start, size, {
      result: (id, result, newest) => {
        told('a result');
        this.result(id, result, newest);
      },
      part: (id, result) => {
        told('a part');
        const cell = this.cells.get(id);
        const { edit } = result as unknown as MadeResult;
        if (cell !== undefined && edit !== cell.study.edit) this.faults.push(`a part of ${id} is of values before`);
      },
      progress: (id, share) => {
        told('progress');
        if (!(share >= 0 && share <= 1)) this.faults.push(`the share of ${id} is ${share}`);
      },
      failed: () => {
        told('a failure');
        this.stop();
      },
      settled: () => {
        told('the end');
        this.isSettled = true;
        if (this.waiting.length > 0) this.faults.push(`${this.waiting.join()} waits though all is settled`);
      },
    });
  }

  /** The cells that wait. */
  get waiting(): string[] {
    return [...this.cells].filter(([, { phase }]) => phase === 'waiting').map(([id]) => id);
  }

  /** What is left undone once nothing is under way. */
  get open(): string[] {
    return this.isSettled || this.isQuiet ? this.waiting : [...this.waiting, 'the end'];
  }

  take(each: Step): void {
    const { alive } = this.workers;
    switch (each.what) {
      case 'edit':
        this.edit(each.changes);
        return;
      case 'stop':
        this.stop();
        return;
      case 'clear':
        this.client.clear();
        this.cells.clear();
        this.former.clear();
        this.isQuiet = true;
        return;
      case 'again':
        for (const cell of this.cells.values()) if (cell.phase === 'stopped') cell.phase = 'waiting';
        this.ask();
        return;
      case 'lose':
        alive[each.which % alive.length]?.lose();
        return;
      case 'refuse':
        alive[each.which % alive.length]?.take(new Error('refused'));
        return;
      default:
    }
  }

  private edit(changes: readonly string[]): void {
    this.edits += 1;
    let isStale = false;
    for (const [index, what] of changes.entries()) {
      const id = CELLS[index] ?? '';
      if (what === 'remove') this.cells.delete(id);
      const before = this.cells.get(id)?.study;
      const study = this.changed(id, what, before);
      if (study === undefined) continue;
      isStale = true;
      if (before !== undefined && before.lineage !== study.lineage) this.former.set(id, before);
      this.cells.set(id, { study: { ...study, edit: this.edits }, phase: 'waiting' });
    }
    if (isStale) this.ask();
  }

  /** What becomes of a cell; nothing where it stays what it is. */
  private changed(id: string, what: string, before: MadeStudy | undefined): MadeStudy | undefined {
    if (what === 'keep' || what === 'remove') return undefined;
    if (what === 'touch' && before !== undefined) return before;
    // A study of before is asked for anew, as one of its own.
    const same = what === 'back' ? this.former.get(id) : undefined;
    this.lineages += 1;
    const lineage = this.lineages;
    const first = lineage % 3;
    return {
      edit: 0,
      lineage,
      count: same?.count ?? first + ((lineage * 7) % 5),
      first: same?.first ?? first,
      isFaulty: what === 'fault',
    };
  }

  private ask(): void {
    this.isQuiet = false;
    this.isSettled = false;
    const text = JSON.stringify(Object.fromEntries([...this.cells].map(([id, { study }]) => [id, study])));
    const wanted = this.waiting.map((id) => ({ id, signature: `${this.cells.get(id)?.study.lineage ?? 0}` }));
    this.client.run(text, wanted);
  }

  private stop(): void {
    this.client.stop();
    this.isQuiet = true;
    for (const cell of this.cells.values()) if (cell.phase === 'waiting') cell.phase = 'stopped';
  }

  private result(id: string, result: MadeResult | CellResult, newest: boolean): void {
    const cell = this.cells.get(id);
    if (cell === undefined) return;
    const hasBroken = !('edit' in result);
    if (hasBroken) {
      // What broke down is begun anew when it is asked for again.
      this.lineages += 1;
      cell.study = { ...cell.study, lineage: this.lineages };
    }
    // It goes on waiting for its present values.
    if (!newest) return;
    if (cell.phase !== 'waiting') this.faults.push(`${id} gets a result though it is ${cell.phase}`);
    cell.phase = 'current';
    if (hasBroken) return;
    const { edit, count, isFaulty } = cell.study;
    if (result.edit !== edit) this.faults.push(`${id} gets a result of values before`);
    if (result.ok && (isFaulty || result.jobs.length !== count)) {
      this.faults.push(`${id} gets ${result.jobs.length} of ${count} jobs`);
    }
  }
}

/** Lets everything come that needs neither an answer nor time. */
async function calm(): Promise<void> {
  for (let turn = 0; turn < 40; turn++) await Promise.resolve();
}

/** Lets whatever is under way come to its end. */
async function rest(workers: MadeWorkers): Promise<void> {
  for (let turn = 0; turn < 300 && (vi.getTimerCount() > 0 || workers.alive.some((each) => each.isAsked)); turn++) {
    for (const worker of workers.alive) worker.take();
    await calm();
    await vi.advanceTimersByTimeAsync(20);
  }
}

async function play(size: number, steps: readonly Step[]): Promise<void> {
  const page = new MadePage(size);
  const { workers } = page;
  for (const each of steps) {
    if (each.what === 'answer') {
      for (let time = 0; time < each.times; time++) {
        const asked = workers.alive.filter((worker) => worker.isAsked);
        asked[each.which % asked.length]?.take();
        await calm();
      }
    } else if (each.what === 'wait') await vi.advanceTimersByTimeAsync(each.time);
    else if (each.what === 'rest') await rest(workers);
    else page.take(each);
    await calm();
    if (workers.alive.length > size) page.faults.push(`${workers.alive.length} workers instead of ${size}`);
  }
  await rest(workers);
  expect({ faults: page.faults, open: page.open }).toEqual({ faults: [], open: [] });
}

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

test.each([1, 2, 3])(
  'whatever is edited, stopped, lost or late, every study ends answered or stopped, no job is done twice or without what it follows from, with %i workers',
  { timeout: 300_000 },
  async (size) => {
    await assert(
      asyncProperty(array(step, { maxLength: 60, size: 'max' }), (steps) => play(size, steps)),
      { numRuns: 200 },
    );
  },
);
