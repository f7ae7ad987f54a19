import { ForeseenTurns } from '#notebook/controllers/foreseen-turns.ts';
import type { Json } from '#notebook/edit/json.ts';
import { type CellStates, outdated, stateOf } from '#notebook/runtime/cell-state.ts';
import type { Job, RunListener } from '#notebook/worker/protocol.ts';
import type { CellResult } from '#sim/document/index.ts';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';

/** A page with a trace and a reading of one board, of which only the trace is waited for. */
const page = (R1: string): Json => ({
  boards: { lamp: { values: { R1 } } },
  page: [
    { id: 'look', kind: 'trace', board: 'lamp', until: 1 },
    { id: 'numbers', kind: 'reading', board: 'lamp', until: 1 },
  ],
});
const stale = ['look', 'numbers'];
/** Some result that can be told from others. */
const result = (text: string): CellResult => ({ kind: 'note', ok: true, quotes: { text } });

let jobs: { run: number; job: Job; finish: () => void }[];
let listener: RunListener | undefined;
let ended: number;
let turns: ForeseenTurns;

beforeEach(() => {
  vi.useFakeTimers();
  [jobs, ended] = [[], 0];
  turns = new ForeseenTurns(
    (toRun) => {
      listener = toRun;
      return {
        simulation: {
          connect: () => Promise.resolve(),
          compute: (run, job) => new Promise((finish) => jobs.push({ run, job, finish })),
          cancel: () => Promise.resolve(),
        },
        terminate: () => (ended += 1),
      };
    },
    10,
    (id) => id === 'look',
  );
});

afterEach(() => {
  vi.useRealTimers();
});

/** Lets the job that was asked last come to its end with these results. */
async function answer(...results: [string, CellResult][]): Promise<void> {
  const last = jobs.at(-1);
  listener?.results(last?.run ?? 0, results);
  last?.finish();
  await vi.advanceTimersByTimeAsync(0);
}

/** What the cell `look` shows once the document is this one. */
function shown(document: Json): CellResult | undefined {
  const states = outdated({}, stale, stale);
  const { shown: there, phase } = stateOf(turns.enter(document, states, stale), 'look');
  return phase === 'current' ? there : undefined;
}

describe('ForeseenTurns', () => {
  test('computes what may come for the cells that are waited for, one state after the other, and knows it then', async () => {
    turns.waited(20);
    turns.foresee(page('1k'), [page('2k'), page('3k')]);
    expect(jobs.map(({ job }) => job)).toEqual([
      { text: JSON.stringify(page('2k')), batches: [['look']], columns: 10 },
    ]);
    await answer(['look', result('at 2k')]);
    await answer(['look', result('at 3k')]);
    expect(jobs).toHaveLength(2);
    expect(shown(page('2k'))).toEqual(result('at 2k'));
    expect(shown(page('3k'))).toEqual(result('at 3k'));
    expect(shown(page('4k'))).toBeUndefined();
  });

  test('what was not foreseen leaves the states the very same', () => {
    const states = outdated({}, stale, stale);
    expect(turns.enter(page('2k'), states, stale)).toBe(states);
  });

  test('knows where the document came from, and does not compute that again', () => {
    const states: CellStates = {
      look: { shown: { kind: 'note', ok: true, quotes: {} }, fault: undefined, phase: 'current' },
    };
    turns.leave(page('1k'), states, stale);
    expect(shown(page('1k'))).toBe(states['look']?.shown);
    turns.waited(20);
    turns.foresee(page('2k'), [page('1k')]);
    expect(jobs).toHaveLength(0);
  });

  test('keeps nothing of a cell that is not computed from the present values', () => {
    turns.leave(
      page('1k'),
      { look: { shown: { kind: 'note', ok: true, quotes: {} }, fault: undefined, phase: 'waiting' } },
      stale,
    );
    expect(shown(page('1k'))).toBeUndefined();
  });

  test('what is foreseen anew takes the place of what has not been begun', async () => {
    turns.waited(20);
    turns.foresee(page('1k'), [page('2k'), page('3k')]);
    turns.foresee(page('2k'), [page('4k')]);
    await answer(['look', result('at 2k')]);
    expect(jobs.map(({ job }) => job.text)).toEqual([page('2k'), page('4k')].map((each) => JSON.stringify(each)));
  });

  test('foresees nothing for a page that is slow, and ends a run that takes long', async () => {
    turns.foresee(page('1k'), [page('2k')]);
    turns.waited(400);
    turns.foresee(page('1k'), [page('2k')]);
    expect(jobs).toHaveLength(0);
    turns.waited(20);
    turns.foresee(page('1k'), [page('2k'), page('3k')]);
    await vi.advanceTimersByTimeAsync(2000);
    expect(ended).toBe(1);
    expect(jobs).toHaveLength(1);
    turns.foresee(page('1k'), [page('2k')]);
    expect(jobs).toHaveLength(1);
  });

  test('forgets everything with the document', async () => {
    turns.waited(20);
    turns.foresee(page('1k'), [page('2k')]);
    await answer(['look', result('at 2k')]);
    turns.clear();
    expect(shown(page('2k'))).toBeUndefined();
  });
});
