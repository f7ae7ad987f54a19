/** A thread that computes a document, so that the one beside it hears an interrupt (Ctrl-C) in the middle of a run. */
import { parentPort, workerData } from 'node:worker_threads';
import {
  type Captures,
  claimTrialsFor,
  computeDocument,
  type DocumentResults,
  loadDocument,
} from '../document/index.ts';
import type { StudyJobs } from './study-jobs.ts';

/** What such a thread is given. */
export interface ComputingOrder {
  /** The document, which the thread reads for itself. */
  readonly text: string;
  readonly only: readonly string[] | undefined;
  readonly captures: Captures;
  /** What the jobs of studies gave. */
  readonly jobs: StudyJobs;
  /** One whole number shared by both threads; anything but 0 ends the work. */
  readonly stop: SharedArrayBuffer;
  /** Whether it is to say how far it is. */
  readonly tells: boolean;
}

/** What it says: how far it is, and in the end what it has. */
export type ComputingAnswer = { readonly share: number } | { readonly computed: DocumentResults };

/** Shares of the work that are told: no more often than anybody could see. */
const STEP = 0.005;

const { text, only, captures, jobs, stop, tells } = workerData as ComputingOrder;
const tell = (answer: ComputingAnswer): void => parentPort?.postMessage(answer);
const flag = new Int32Array(stop);
const signal = {
  get aborted() {
    return Atomics.load(flag, 0) !== 0;
  },
};
let told = 0;
const onProgress = (share: number): void => {
  if (share - told < STEP) return;
  told = share;
  tell({ share });
};
const { document, formulas } = await loadDocument(text);
if (document === undefined) throw new Error('the document that was read before cannot be read again.');
const claims = await claimTrialsFor(document);
const computed = computeDocument(document, {
  captures,
  jobs,
  signal,
  ...(only === undefined ? {} : { only }),
  ...(formulas === undefined ? {} : { formulas }),
  ...(claims === undefined ? {} : { claims }),
  ...(tells ? { onProgress } : {}),
});
tell({ computed });
