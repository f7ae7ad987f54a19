/** A thread that computes a document and prints it, so that the one beside it hears an interrupt (Ctrl-C) at any time. */
import { parentPort, workerData } from 'node:worker_threads';
import type { ComputeCommand } from './command-line.ts';
import { computePage } from './compute-page.ts';
import { StopFlag } from './stop-flag.ts';

/** What such a thread is given. */
export interface ComputingOrder {
  readonly command: ComputeCommand;
  /** Memory of the flag that ends the work. */
  readonly stop: SharedArrayBuffer;
  /** Whether it is to say how far it is. */
  readonly tells: boolean;
}

/** What it says: what is to be printed, how far it is, and in the end the exit status. */
export type ComputingAnswer =
  | { readonly out: string }
  | { readonly message: string }
  | { readonly share: number }
  | { readonly status: number };

/** Shares of the work that are told: no more often than anybody could see. */
const STEP = 0.005;

const { command, stop, tells } = workerData as ComputingOrder;
const { workers } = command;
const tell = (answer: ComputingAnswer): void => parentPort?.postMessage(answer);
let told = 0;
const progress = (share: number): void => {
  if (share - told < STEP && share < 1) return;
  told = share;
  tell({ share });
};
const status = await computePage(
  command,
  {
    out: (out) => tell({ out }),
    message: (message) => tell({ message }),
    ...(tells ? { progress } : {}),
  },
  { stop: new StopFlag(stop), helpers: workers === undefined ? undefined : Math.max(0, workers - 1) },
);
if (status === undefined) throw new Error('a thread must be the place for any page.');
tell({ status });
