/** A thread that helps to run jobs of a document's studies: it reads the document once, then takes jobs until none is left. */
import { parentPort, workerData } from 'node:worker_threads';
import { type Captures, claimTrialsFor, documentStudies, loadDocument } from '../document/index.ts';
import { type JobOrder, JobQueue } from './job-queue.ts';
import { StopFlag } from './stop-flag.ts';

/** What such a thread is started with. */
export interface HelperData {
  readonly text: string;
  readonly only: readonly string[] | undefined;
  readonly captures: Captures;
  /** Memory of the flag that ends all work. */
  readonly stop: SharedArrayBuffer;
}

/** Jobs to help with, and what earlier ones gave that they follow from. */
export interface JobsToShare {
  readonly orders: readonly JobOrder[];
  /** Memory of how many are taken. */
  readonly taken: SharedArrayBuffer;
  readonly given: readonly { readonly id: string; readonly jobs: ReadonlyMap<number, unknown> }[];
}

/** A job that was run. */
export interface JobAnswer extends JobOrder {
  /** What it gave; undefined when it was stopped. */
  readonly job: unknown;
}

/** Jobs that were run, and whether this thread has found none left. */
export interface JobAnswers {
  readonly answers: readonly JobAnswer[];
  readonly isLast: boolean;
}

/** Jobs that took less than this (ms) are told together: a message takes both threads as long as some of them. */
const TOGETHER = 20;

const { text, only, captures, stop } = workerData as HelperData;
const signal = new StopFlag(stop);
const { document, formulas, checks } = await loadDocument(text);
const claims = document === undefined ? undefined : await claimTrialsFor(document);
const studies = new Map(
  document === undefined
    ? []
    : documentStudies(document, {
        captures,
        ...(only === undefined ? {} : { only }),
        ...(formulas === undefined ? {} : { formulas }),
        ...(claims === undefined ? {} : { claims }),
        ...(checks === undefined ? {} : { checks }),
      }).map(({ id, study }) => [id, study]),
);
const tell = (answers: JobAnswers): void => parentPort?.postMessage(answers);
parentPort?.on('message', ({ orders, taken, given }: JobsToShare) => {
  for (const { id, jobs } of given) studies.get(id)?.given?.(jobs);
  const queue = new JobQueue(orders, taken);
  let answers: JobAnswer[] = [];
  let begun = performance.now();
  while (!signal.aborted) {
    const order = queue.take();
    if (order === undefined) break;
    answers.push({ ...order, job: studies.get(order.id)?.run(order.index, signal) });
    if (performance.now() - begun < TOGETHER) continue;
    tell({ answers, isLast: false });
    answers = [];
    begun = performance.now();
  }
  tell({ answers, isLast: true });
});
