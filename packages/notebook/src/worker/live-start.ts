import { wrap } from 'comlink';
import type { LiveWorker } from '../runtime/live-protocol.ts';
import { liveProgram } from './worker-files.ts';

/** A worker of a run by hand, and the means to end it. */
export interface LiveHandle {
  readonly live: LiveWorker;
  terminate(): void;
}

/**
 * Starts the worker in which a board is run by hand.
 *
 * @param failed hears of a worker that cannot be loaded or breaks down.
 */
export function startLiveWorker(failed: (message: string) => void): LiveHandle {
  const worker = liveProgram();
  worker.addEventListener('error', (event) => failed(event.message || 'The simulator could not be loaded.'));
  return { live: wrap<LiveWorker>(worker), terminate: () => worker.terminate() };
}
