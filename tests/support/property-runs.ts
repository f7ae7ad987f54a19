import { configureGlobal } from 'fast-check';

/** Runs per property; `npm run laws` sets LAWS_RUNS to 1000. */
const runs = Number(process.env['LAWS_RUNS'] ?? 100);
if (!Number.isInteger(runs) || runs < 1) {
  throw new Error(`LAWS_RUNS: the number of runs must be a whole number from 1; got ${process.env['LAWS_RUNS']}.`);
}
configureGlobal({ numRuns: runs });
