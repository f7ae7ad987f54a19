import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Captures, DocumentStudy } from '../document/index.ts';
import { HelpersWorth } from './helpers-worth.ts';
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
  /** Threads beside this one that help, which takes jobs as well; undefined for as many as are worth their start. */
  readonly helpers: number | undefined;
  /** Jobs that need not be run. */
  readonly known: StudyJobs;
  /** Part `part` of `parts`: only jobs whose number leaves `part - 1` when divided by `parts`, and those they follow from. */
  readonly shard: { readonly part: number; readonly parts: number } | undefined;
  readonly stop: StopFlag;
  readonly onProgress: ((share: number) => void) | undefined;
}

/** Time after which messages and interrupts are let in (ms). */
const BREATH = 10;
/** Time after which it is asked again whether threads are worth their start (ms): to ask takes as long as a short job. */
const ASKING = 50;

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
  const threads = Array.from({ length: Math.min(helpers ?? 0, orders.length - 1) }, () => helper(options));
  const worth = new HelpersWorth(helpers === undefined ? availableParallelism() : 0, processorTime());
  let asked = performance.now();
  try {
    // What later jobs follow from is run once and handed on to all threads.
    for (const stage of [orders.filter(isFirst), orders.filter((order) => !isFirst(order))]) {
      if (stage.length === 0 || stop.aborted) continue;
      const queue = new JobQueue(stage);
      const given = [...firsts].flatMap(([id, first]) => {
        const jobs = new Map([...(done.get(id) ?? [])].filter(([index]) => index < first));
        return jobs.size === 0 ? [] : [{ id, jobs }];
      });
      const jobs: JobsToShare = { orders: stage, taken: queue.taken, given };
      await new Promise<void>((resolve, reject) => {
        let atWork = 1;
        const free = (): void => {
          if (--atWork === 0) resolve();
        };
        const told = (answer: JobAnswer): void => {
          take(answer);
          // A thread that has only just started need not be waited for once all is done.
          if (count === orders.length) resolve();
        };
        const join = (thread: Worker): void => {
          atWork++;
          share(thread, jobs, told).then(free, reject);
        };
        threads.forEach(join);
        runHere(studies, queue, stop, (answer) => {
          told(answer);
          if (performance.now() - asked < ASKING) return;
          asked = performance.now();
          const left = orders.length - count;
          const wanted = Math.min(left, worth.at(processorTime(), count, left, threads.length));
          while (threads.length < wanted) join(threads[threads.push(helper(options)) - 1]!);
        }).then(free, reject);
      });
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
  let begun = performance.now();
  for (;;) {
    if (performance.now() - begun >= BREATH) {
      await new Promise((resolve) => setImmediate(resolve));
      begun = performance.now();
    }
    if (stop.aborted) return;
    const order = queue.take();
    if (order === undefined) return;
    take({ ...order, job: byId.get(order.id)?.run(order.index, stop) });
  }
}

/** What the program has taken of the processors, all its threads together (ms). */
function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
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
