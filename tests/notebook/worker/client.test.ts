import { type JobListener, SimulationClient } from '#notebook/worker/client.ts';
import type { Job, RunListener } from '#notebook/worker/protocol.ts';
import type { CellResult } from '#sim/document/index.ts';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';

const result: CellResult = { kind: 'note', ok: true, quotes: {} };
const job = (text: string): Job => ({ text, batches: [['a']], columns: 10 });

/** A worker that does only what the test tells it to. */
class ScriptedWorker {
  readonly jobs: { run: number; job: Job; finish: () => void; fail: (error: Error) => void }[] = [];
  readonly cancelled: number[] = [];
  ended = false;
  readonly listener: RunListener;
  /** Says that the worker itself broke down. */
  readonly lose: (message: string) => void;

  constructor(listener: RunListener, lose: (message: string) => void) {
    this.listener = listener;
    this.lose = lose;
  }

  readonly simulation = {
    connect: () => Promise.resolve(),
    compute: (run: number, asked: Job) =>
      new Promise<void>((finish, fail) => {
        this.jobs.push({ run, job: asked, finish, fail });
      }),
    cancel: (run: number) => {
      this.cancelled.push(run);
      return Promise.resolve();
    },
  };
}

let workers: ScriptedWorker[];
let heard: string[];
let client: SimulationClient;

beforeEach(() => {
  vi.useFakeTimers();
  workers = [];
  heard = [];
  const listener: JobListener = {
    ready: () => heard.push('ready'),
    result: (id, _, newest) => heard.push(`result ${id} ${newest ? 'newest' : 'overtaken'}`),
    progress: (id, share) => heard.push(`progress ${id} ${share}`),
    failed: (message) => heard.push(`failed ${message}`),
    settled: () => heard.push('settled'),
  };
  client = new SimulationClient((toRun, failed) => {
    const worker = new ScriptedWorker(toRun, failed);
    workers.push(worker);
    return { simulation: worker.simulation, terminate: () => (worker.ended = true) };
  }, listener);
});

afterEach(() => {
  vi.useRealTimers();
});

/** Lets promises that are settled be heard. */
const settle = () => vi.advanceTimersByTimeAsync(0);

describe('SimulationClient', () => {
  test('computes a job and reports its results', async () => {
    client.run(job('one'));
    const [asked] = workers[0]?.jobs ?? [];
    workers[0]?.listener.results(asked?.run ?? 0, [['a', result]]);
    asked?.finish();
    await settle();
    expect(heard).toEqual(['result a newest', 'settled']);
  });

  test('of several edits while it computes, only the newest is computed next', async () => {
    client.run(job('one'));
    client.run(job('two'));
    client.run(job('three'));
    workers[0]?.jobs[0]?.finish();
    await settle();
    expect(workers[0]?.jobs.map((each) => each.job.text)).toEqual(['one', 'three']);
    expect(heard).toEqual([]);
  });

  test('results of an overtaken job are told from the newest', async () => {
    client.run(job('one'));
    client.run(job('two'));
    workers[0]?.listener.results(workers[0].jobs[0]?.run ?? 0, [['a', result]]);
    await settle();
    expect(heard).toEqual(['result a overtaken']);
  });

  test('a job that is overtaken for long is cancelled, then its worker is replaced', async () => {
    client.run(job('one'));
    client.run(job('two'));
    await vi.advanceTimersByTimeAsync(130);
    expect(workers[0]?.cancelled).toEqual([workers[0]?.jobs[0]?.run]);
    expect(workers).toHaveLength(1);
    await vi.advanceTimersByTimeAsync(130);
    expect(workers[0]?.ended).toBe(true);
    expect(workers[1]?.jobs.map((each) => each.job.text)).toEqual(['two']);
  });

  test('a worker that obeys the cancel in time is kept', async () => {
    client.run(job('one'));
    client.run(job('two'));
    await vi.advanceTimersByTimeAsync(130);
    workers[0]?.jobs[0]?.finish();
    await vi.advanceTimersByTimeAsync(500);
    expect(workers).toHaveLength(1);
    expect(workers[0]?.ended).toBe(false);
    expect(workers[0]?.jobs.map((each) => each.job.text)).toEqual(['one', 'two']);
  });

  test('stop ends the worker at once, and nothing of it is heard any more', async () => {
    client.run(job('one'));
    const run = workers[0]?.jobs[0]?.run ?? 0;
    client.stop();
    workers[0]?.listener.results(run, [['a', result]]);
    workers[0]?.jobs[0]?.finish();
    await settle();
    expect(workers[0]?.ended).toBe(true);
    expect(heard).toEqual([]);
  });

  test('a worker that breaks down is reported once, and the next job gets a new one', async () => {
    client.run(job('one'));
    workers[0]?.jobs[0]?.fail(new Error('out of memory'));
    await settle();
    expect(heard).toEqual(['failed out of memory']);
    client.run(job('two'));
    expect(workers).toHaveLength(2);
  });

  test('a worker that is lost while it has nothing to do is not heard of, and is not asked again', async () => {
    client.run(job('one'));
    workers[0]?.jobs[0]?.finish();
    await settle();
    workers[0]?.lose('out of memory');
    expect(heard).toEqual(['settled']);
    expect(workers[0]?.ended).toBe(true);
    client.run(job('two'));
    expect(workers[1]?.jobs.map((each) => each.job.text)).toEqual(['two']);
  });

  test('what a worker says that was replaced does not end the job of the next', () => {
    client.run(job('one'));
    client.stop();
    client.run(job('two'));
    workers[0]?.lose('out of memory');
    expect(heard).toEqual([]);
    expect(workers[1]?.ended).toBe(false);
  });

  test('tells what a cell waits for: the worker, what is computed before it, the run of values before', async () => {
    const two: Job = { text: 'two', batches: [['a', 'b'], ['c']], columns: 10 };
    client.run(two);
    expect(client.awaited('c')).toBe('engine');
    workers[0]?.listener.ready();
    expect(heard).toEqual(['ready']);
    expect([client.awaited('a'), client.awaited('c')]).toEqual([
      ['a', 'b'],
      ['a', 'b'],
    ]);
    workers[0]?.listener.results(workers[0].jobs[0]?.run ?? 0, [['a', result]]);
    expect(client.awaited('c')).toEqual(['c']);
    client.run(job('three'));
    expect(client.awaited('a')).toBe('run before');
    workers[0]?.jobs[0]?.finish();
    await settle();
    expect(client.awaited('a')).toEqual(['a']);
  });

  test('waits for a worker anew where one was ended, whatever that still says', () => {
    client.run(job('one'));
    workers[0]?.listener.ready();
    client.stop();
    client.run(job('two'));
    workers[0]?.listener.ready();
    expect(client.awaited('a')).toBe('engine');
    workers[1]?.listener.ready();
    expect(client.awaited('a')).toEqual(['a']);
  });
});
