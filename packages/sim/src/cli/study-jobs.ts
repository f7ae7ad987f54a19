import { Worker } from 'node:worker_threads';
import type { Captures, DocumentStudy } from '../document/index.ts';
import { type JobOrder, JobQueue } from './job-queue.ts';
import type { StopFlag } from './stop-flag.ts';
import type { HelperData, JobAnswer, JobAnswers, JobsToShare } from './study-worker.ts';

/** What the jobs of each study gave, by cell and number. */
export type StudyJobs = Map<string, Map<number, unknown>>;

/** How the jobs of a document's studies are run. */
export interface JobOptions {
  /** Text of the document, which every thread reads for itself. */
  readonly text: string;
  readonly only: readonly string[] | undefined;
  /** Measurements by cell, as they were read. */
  readonly captures: Captures;
  /** Threads beside this one that help; this one takes jobs as well. */
  readonly helpers: number;
  /** Jobs that need not be run. */
  readonly known: StudyJobs;
  /** Part `part` of `parts`: only jobs whose number leaves `part - 1` when divided by `parts`, and those they follow from. */
  readonly shard: { readonly part: number; readonly parts: number } | undefined;
  readonly stop: StopFlag;
  readonly onProgress: ((share: number) => void) | undefined;
}

/**
 * Runs the jobs of a document's studies and gives what there is when all are done or work is to stop. What they give does
 * not depend on the number of threads.
 */
export async function runStudyJobs(studies: readonly DocumentStudy[], options: JobOptions): Promise<StudyJobs> {
  const { known, shard, stop, helpers, onProgress } = options;
  const done: StudyJobs = new Map(studies.map(({ id }) => [id, new Map(known.get(id) ?? [])]));
  const orders = studies.flatMap(({ id, study }) =>
    Array.from({ length: study.jobCount }, (_, index): JobOrder => ({ id, index })).filter(
      ({ index }) => done.get(id)?.has(index) !== true && isOfShard(index, study, shard),
    ),
  );
  let count = 0;
  const take = ({ id, index, job }: JobAnswer): void => {
    if (job === undefined) return;
    done.get(id)?.set(index, job);
    count++;
    onProgress?.(count / orders.length);
  };
  for (const { id, study } of studies) study.given?.(done.get(id) ?? new Map());
  const firsts = new Map(studies.map(({ id, study }) => [id, study.first ?? 0]));
  const isFirst = ({ id, index }: JobOrder): boolean => index < (firsts.get(id) ?? 0);
  const threads = Array.from({ length: Math.min(helpers, orders.length - 1) }, () => helper(options));
  try {
    // What later jobs follow from is run once and handed on to all threads.
    for (const stage of [orders.filter(isFirst), orders.filter((order) => !isFirst(order))]) {
      if (stage.length === 0 || stop.aborted) continue;
      const queue = new JobQueue(stage);
      const given = [...firsts].flatMap(([id, first]) => {
        const jobs = new Map([...(done.get(id) ?? [])].filter(([index]) => index < first));
        return jobs.size === 0 ? [] : [{ id, jobs }];
      });
      const helped = threads.map((thread) => share(thread, { orders: stage, taken: queue.taken, given }, take));
      await Promise.all([runHere(studies, queue, stop, take), ...helped]);
    }
  } finally {
    // Nobody waits for their end: what they still do is of no use.
    for (const thread of threads) void thread.terminate();
  }
  return done;
}

/**
 * Every part needs the jobs that all others follow from: it runs them once, instead of once in each thread. Where only some
 * jobs follow from them, whichever part has these makes up for what it lacks.
 */
function isOfShard(
  index: number,
  { first = 0, following = first }: DocumentStudy['study'],
  shard: JobOptions['shard'],
): boolean {
  if (shard === undefined || index % shard.parts === shard.part - 1) return true;
  return index < first && following === first;
}

/** Runs jobs in this thread; messages and interrupts come in between them. */
async function runHere(
  studies: readonly DocumentStudy[],
  queue: JobQueue,
  stop: StopFlag,
  take: (answer: JobAnswer) => void,
): Promise<void> {
  const byId = new Map(studies.map(({ id, study }) => [id, study]));
  for (;;) {
    await new Promise((resolve) => setImmediate(resolve));
    if (stop.aborted) return;
    const order = queue.take();
    if (order === undefined) return;
    take({ ...order, job: byId.get(order.id)?.run(order.index, stop) });
  }
}

/** Starts a thread that helps. */
function helper({ text, only, captures, stop }: JobOptions): Worker {
  const data: HelperData = { text, only, captures, stop: stop.memory };
  return new Worker(new URL('./study-worker.js', import.meta.url), { workerData: data });
}

/** Has a thread help with jobs until none is left. */
function share(thread: Worker, jobs: JobsToShare, take: (answer: JobAnswer) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    const hear = ({ answers, isLast }: JobAnswers): void => {
      answers.forEach(take);
      if (!isLast) return;
      thread.off('message', hear);
      thread.off('error', reject);
      resolve();
    };
    thread.on('error', reject);
    thread.on('message', hear);
    thread.postMessage(jobs);
  });
}
