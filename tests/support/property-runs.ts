import { configureGlobal } from 'fast-check';

/** Where `npm test` begins to draw: it tries the same cases every time, so that what it says depends on the code alone. */
const SEED = 20_261_126;

/** Runs per property; `npm run laws` sets LAWS_RUNS to 1000 and looks at new cases every time. */
const asked = process.env['LAWS_RUNS'];
const runs = Number(asked ?? 100);
if (!Number.isInteger(runs) || runs < 1) {
  throw new Error(`LAWS_RUNS: the number of runs must be a whole number from 1; got ${asked}.`);
}
configureGlobal(asked === undefined ? { numRuns: runs, seed: SEED } : { numRuns: runs });
