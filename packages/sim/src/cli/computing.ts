import { Worker } from 'node:worker_threads';
import {
  computeDocument,
  type ComputeDocumentOptions,
  type DocumentResults,
  type NotebookDocument,
} from '../document/index.ts';
import type { ComputingAnswer, ComputingOrder } from './computing-thread.ts';
import { threadEnding, type StudyJobs } from './study-jobs.ts';

/** What is computed, beside the document itself. */
export interface Computing extends Pick<ComputeDocumentOptions, 'only' | 'formulas' | 'claims'> {
  readonly onProgress: ((share: number) => void) | undefined;
  /** The text of the document, which a thread reads for itself. */
  readonly text: string;
  readonly captures: NonNullable<ComputeDocumentOptions['captures']>;
  readonly jobs: StudyJobs;
  readonly signal: AbortSignal;
}

/** What is computed within this time (ms) is not worth a thread, which takes as long to start. */
const SOON = 300;

/**
 * Computes a document, and what takes long in a thread of its own, so that the signal is heard in the middle of a run; what
 * is computed by then is given, as with `computeDocument`. Sources that are not built have no file for a thread: there
 * everything is computed here.
 */
export async function compute(document: NotebookDocument, computing: Computing): Promise<DocumentResults> {
  const { text, only, captures, jobs, signal, onProgress } = computing;
  if (threadEnding !== '.js' || signal.aborted) return computeDocument(document, computing);
  const soon = computedSoon(document, computing);
  if (soon !== undefined) return soon;
  const stop = new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT);
  const order: ComputingOrder = { text, only, captures, jobs, stop, tells: onProgress !== undefined };
  const thread = new Worker(new URL('./computing-thread.js', import.meta.url), { workerData: order });
  const abort = (): void => void Atomics.store(new Int32Array(stop), 0, 1);
  signal.addEventListener('abort', abort, { once: true });
  try {
    return await new Promise((resolve, reject) => {
      thread.on('error', reject);
      thread.on('message', (answer: ComputingAnswer) => {
        if ('computed' in answer) resolve(answer.computed);
        else onProgress?.(answer.share);
      });
    });
  } finally {
    signal.removeEventListener('abort', abort);
    void thread.terminate();
  }
}

/** Computes a document here; undefined where that would take long. */
function computedSoon(document: NotebookDocument, computing: Computing): DocumentResults | undefined {
  const begun = performance.now();
  let isLate = false;
  const signal = {
    get aborted() {
      isLate ||= performance.now() - begun > SOON;
      return isLate;
    },
  };
  const computed = computeDocument(document, { ...computing, signal });
  return isLate ? undefined : computed;
}
