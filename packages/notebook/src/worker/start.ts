import { proxy, wrap } from 'comlink';
import type { WorkerHandle } from './client.ts';
import type { RunListener, SimulationWorker } from './protocol.ts';

/**
 * Starts the worker in which all simulations run.
 *
 * @param failed hears of a worker that cannot be loaded or breaks down.
 */
export function startWorker(listener: RunListener, failed: (message: string) => void): WorkerHandle {
  const worker = new Worker(new URL('./entry.ts', import.meta.url), { type: 'module' });
  worker.addEventListener('error', (event) => failed(event.message || 'The simulator could not be loaded.'));
  const simulation = wrap<SimulationWorker>(worker);
  // Messages arrive in order, so nothing has to wait for the answer.
  void simulation.connect(proxy(listener));
  return { simulation, terminate: () => worker.terminate() };
}
