import { extname } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Captures, DocumentStudy } from '../document/index.ts';
import type { GivenJobs, JobAnswer, JobOrder } from './study-worker.ts';

/** What the jobs of each study gave, by cell and number. */
export type StudyJobs = Map<string, Map<number, unknown>>;

/** How the jobs of a document's studies are run. */
export interface JobOptions {
  /** Text of the document, which every thread reads for itself. */
  readonly text: string;
  readonly only: readonly string[] | undefined;
  /** Measurements by cell, as they were read. */
  readonly captures: Captures;
  /**
   * Threads beside this one; one if not given, so that this one hears an interrupt in the middle of a job. With 0, jobs are
   * run here, one after the other.
   */
  readonly workers: number | undefined;
  /** Jobs that need not be run. */
  readonly known: StudyJobs;
  /** Part `part` of `parts`: only jobs whose number leaves `part - 1` when divided by `parts`, and those they follow from. */
  readonly shard: { readonly part: number; readonly parts: number } | undefined;
  readonly signal: AbortSignal;
  readonly onProgress: ((share: number) => void) | undefined;
}

/**
 * Runs the jobs of a document's studies and gives what there is when all are done or the signal is set off. What they give
 * does not depend on the number of threads.
 */
export async function runStudyJobs(studies: readonly DocumentStudy[], options: JobOptions): Promise<StudyJobs> {
  const { known, shard, signal, workers, onProgress } = options;
  const done: StudyJobs = new Map(studies.map(({ id }) => [id, new Map(known.get(id) ?? [])]));
  const orders = studies.flatMap(({ id, study }) =>
    Array.from({ length: study.jobCount }, (_, index): JobOrder => ({ id, index })).filter(
      ({ index }) => done.get(id)?.has(index) !== true && isOfShard(index, study.first ?? 0, shard),
    ),
  );
  let count = 0;
  const take = ({ id, index, job }: JobAnswer): void => {
    if (job !== undefined) done.get(id)?.set(index, job);
    count++;
    onProgress?.(count / orders.length);
  };
  const threads = workers ?? (threadEnding === '.js' ? 1 : 0);
  for (const { id, study } of studies) study.given?.(done.get(id) ?? new Map());
  if (threads === 0) await runHere(studies, orders, signal, take);
  else if (orders.length > 0) {
    const firsts = new Map(studies.map(({ id, study }) => [id, study.first ?? 0]));
    const isFirst = ({ id, index }: JobOrder): boolean => index < (firsts.get(id) ?? 0);
    const handOn = (): GivenJobs[] =>
      [...firsts].flatMap(([id, first]) => {
        const given = new Map([...(done.get(id) ?? [])].filter(([index]) => index < first));
        return given.size === 0 ? [] : [{ id, given }];
      });
    const stages = [orders.filter(isFirst), orders.filter((order) => !isFirst(order))];
    await runInThreads(Math.min(threads, orders.length), stages, handOn, options, take);
  }
  return done;
}

/** Every part needs the jobs that all others follow from: it runs them once, instead of once in each thread. */
function isOfShard(index: number, first: number, shard: JobOptions['shard']): boolean {
  return shard === undefined || index < first || index % shard.parts === shard.part - 1;
}

/** The built program is JavaScript, the sources are not: the thread's file has the ending of this one. */
export const threadEnding = extname(import.meta.url);
const threadFile = new URL(`./study-worker${threadEnding}`, import.meta.url);

/** Lets interrupts come in between jobs. */
async function runHere(
  studies: readonly DocumentStudy[],
  orders: readonly JobOrder[],
  signal: AbortSignal,
  take: (answer: JobAnswer) => void,
): Promise<void> {
  const byId = new Map(studies.map(({ id, study }) => [id, study]));
  for (const { id, index } of orders) {
    await new Promise((resolve) => setImmediate(resolve));
    if (signal.aborted) return;
    take({ id, index, job: byId.get(id)?.run(index, signal) });
  }
}

async function runInThreads(
  count: number,
  stages: readonly (readonly JobOrder[])[],
  handOn: () => readonly GivenJobs[],
  { text, only, captures, signal }: JobOptions,
  take: (answer: JobAnswer) => void,
): Promise<void> {
  const threads = Array.from({ length: count }, () => new Worker(threadFile, { workerData: { text, only, captures } }));
  try {
    for (const orders of stages) {
      if (signal.aborted) return;
      // What later jobs follow from is run once and handed on to all threads.
      for (const given of handOn()) for (const thread of threads) thread.postMessage(given);
      const queue = orders[Symbol.iterator]();
      await Promise.all(threads.map((thread) => follow(thread, queue, signal, take)));
    }
  } finally {
    // Nobody waits for their end: what they still do is of no use.
    for (const thread of threads) void thread.terminate();
  }
}

/** Orders that are answered together should take about so long (ms), and there may be so many of them at most. */
const TOGETHER = 10;
const MOST_TOGETHER = 32;

/**
 * Gives a thread jobs until none is left: quick ones many at a time, for a message takes both threads as long as some of
 * them; long ones one by one, so that no thread has many left when others have none.
 */
function follow(
  thread: Worker,
  queue: Iterator<JobOrder>,
  signal: AbortSignal,
  take: (answer: JobAnswer) => void,
): Promise<void> {
  return new Promise((resolve, reject) => {
    let together = 1;
    let begun = 0;
    const hear = (answers: readonly JobAnswer[]): void => {
      if (signal.aborted) return;
      const took = performance.now() - begun;
      if (took < TOGETHER / 2) together = Math.min(2 * together, MOST_TOGETHER);
      else if (took > 2 * TOGETHER) together = Math.ceil(together / 2);
      answers.forEach(take);
      goOn();
    };
    const goOn = (): void => {
      const orders: JobOrder[] = [];
      while (orders.length < together && !signal.aborted) {
        const next = queue.next();
        if (next.done === true) break;
        orders.push(next.value);
      }
      if (orders.length > 0) {
        begun = performance.now();
        thread.postMessage(orders);
        return;
      }
      thread.off('message', hear);
      resolve();
    };
    signal.addEventListener('abort', () => resolve(), { once: true });
    thread.once('error', reject);
    thread.on('message', hear);
    goOn();
  });
}
