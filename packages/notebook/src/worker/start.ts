import { proxy, wrap } from 'comlink';
import type { WorkerHandle } from './client.ts';
import { unpackedResult } from './packed-result.ts';
import type { RunListener, SentListener, SimulationWorker, StudyWorker } from './protocol.ts';
import type { StudyHandle } from './study-client.ts';
import { simulationProgram } from './worker-files.ts';

/** More would take memory without being faster on most machines. */
const MOST_STUDY_WORKERS = 8;

/**
 * Starts the worker in which all simulations run.
 *
 * @param failed hears of a worker that cannot be loaded or breaks down.
 */
export function startWorker(listener: RunListener, failed: (message: string) => void): WorkerHandle {
  const worker = newWorker(failed);
  const simulation = wrap<SimulationWorker>(worker);
  // Messages arrive in order, so nothing has to wait for the answer.
  const results: SentListener['results'] = (run, packed) =>
    listener.results(
      run,
      packed.map(([id, result]) => [id, unpackedResult(result)] as const),
    );
  void simulation.connect(proxy({ ...listener, results })).then(() => listener.ready());
  return { simulation, terminate: () => worker.terminate() };
}

/** Starts a worker that runs jobs of studies. @param failed as for {@link startWorker}. */
export function startStudyWorker(failed: (message: string) => void): StudyHandle {
  const worker = newWorker(failed);
  return { worker: wrap<StudyWorker>(worker), terminate: () => worker.terminate() };
}

/** How many workers share the jobs of studies: all processors but one, which is left to the page and its traces. */
export function studyWorkerCount(): number {
  return Math.min(MOST_STUDY_WORKERS, Math.max(1, navigator.hardwareConcurrency - 1));
}

function newWorker(failed: (message: string) => void): Worker {
  const worker = simulationProgram();
  worker.addEventListener('error', ({ message }) =>
    failed(
      message
        ? `The computation broke down: ${message.replace(/\.$/u, '')}. Nothing on the page is lost; have it computed again.`
        : 'The engine could not be loaded. Load the page anew.',
    ),
  );
  return worker;
}
