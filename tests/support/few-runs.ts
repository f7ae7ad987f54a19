/** A tenth of the runs that other properties get: for those that integrate a whole circuit a second time each. */
export const fewRuns = Math.ceil(Number(process.env['LAWS_RUNS'] ?? 100) / 10);
