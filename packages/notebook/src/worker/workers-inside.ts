// In a page that is one file, build/one-page-program.ts takes this in place of worker-files.ts: a page from disk can load
// no file beside it, so the program of its workers travels inside its script and is started from memory.
import Program from './inside-entry.ts?worker&inline';
import { LIVE } from './workers-inside-names.ts';

/** A worker for simulations of documents. */
export function simulationProgram(): Worker {
  return new Program();
}

/** A worker for a run by hand. */
export function liveProgram(): Worker {
  return new Program({ name: LIVE });
}
