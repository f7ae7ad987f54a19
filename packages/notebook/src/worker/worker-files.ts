/** A worker for simulations of documents, from its own file. */
export function simulationProgram(): Worker {
  return new Worker(new URL('./entry.ts', import.meta.url), { type: 'module' });
}

/** A worker for a run by hand, from its own file. */
export function liveProgram(): Worker {
  return new Worker(new URL('./live-entry.ts', import.meta.url), { type: 'module' });
}
