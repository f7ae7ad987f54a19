import { configureGlobal, readConfigureGlobal } from 'fast-check';

/**
 * For laws that run whole circuits, most of which take some 20 ms: half as many runs a property as other laws have, so
 * that `npm test` stays short. `LAWS_RUNS` counts for all laws alike.
 */
if (process.env['LAWS_RUNS'] === undefined) configureGlobal({ ...readConfigureGlobal(), numRuns: 50 });
