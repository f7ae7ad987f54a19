import { readdirSync } from 'node:fs';

/**
 * Which tests judge mutants of a folder of packages/sim/src: the folder's own, and of others those that were written for
 * it and are quick. A mutant that survives costs all of them, so what takes seconds (thousands of random circuits, runs of
 * a million periods, anything that measures speed) is not among them, though `npm test` holds the code to it as well.
 * `files` says which files of the folder are mutated.
 *
 * @type {Readonly<Record<string, { readonly files: RegExp, readonly tests: readonly string[] }>>}
 */
export const folders = {
  network: {
    files: /\.ts$/,
    tests: [
      'tests/sim/network/*.test.ts',
      'tests/sim/engine/{ideal-switch-at-rest,outcomes}.test.ts',
      'tests/reference/independent-capacitors.test.ts',
    ],
  },
  device: {
    files: /^timer.*\.ts$/,
    tests: [
      'tests/sim/device/{families,family-changes,supply,supply-disturbed,timer-*,transition-charge}.test.ts',
      'tests/sim/measure/timer-causes.test.ts',
      'tests/reference/{common-practice,published,published-logic}.test.ts',
    ],
  },
  measure: {
    files: /\.ts$/,
    tests: ['tests/sim/measure/*.test.ts', 'tests/sim/run/live-faults.test.ts', 'tests/laws/measure.test.ts'],
  },
  engine: {
    files: /\.ts$/,
    tests: ['tests/sim/engine/!(speed|long-runs).test.ts', 'tests/sim/run/*.test.ts', 'tests/laws/roots.test.ts'],
  },
};

/** All files that are mutated, from packages/sim/src on. */
export function mutatedFiles() {
  return Object.entries(folders).flatMap(([folder, { files }]) =>
    readdirSync(`packages/sim/src/${folder}`)
      .filter((file) => files.test(file))
      .sort()
      .map((file) => `${folder}/${file}`),
  );
}
