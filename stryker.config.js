/**
 * Mutation testing, started by tools/mutate.js, which names the files to mutate and the tests that judge them.
 * Left out: texts, for a string is either a sentence for people or a name that the types check, and mutants outside of
 * functions, for they make every test run.
 */
export default {
  plugins: ['./tools/mutation/quick-runner.js'],
  testRunner: 'quick',
  coverageAnalysis: 'perTest',
  // A mutant that was noticed is not run again while it and the test that noticed it stay as they are; one that was not is
  // run again when there are new tests. Delete the file to begin anew.
  incremental: true,
  incrementalFile: 'test-results/mutation-before.json',
  mutator: { excludedMutations: ['StringLiteral'] },
  ignoreStatic: true,
  concurrency: 1,
  // A loop that does not end is usually told by counting; this is for those that leave the mutated code. It is long, for
  // everything else on a computer goes first, and a mutant that only waits for its turn has not been noticed.
  // Mutants are judged for so short a time that what their tests took in all says nothing.
  timeoutMS: 120_000,
  timeoutFactor: 0,
  dryRunTimeoutMinutes: 15,
  ignorePatterns: [
    '/coverage',
    '/docs',
    '/packages/notebook',
    '/packages/sim/dist',
    '/test-results',
    '/worked-examples',
  ],
  tempDirName: 'test-results/mutation-sandbox',
  reporters: ['json', 'progress-append-only'],
  jsonReporter: { fileName: 'test-results/mutation.json' },
};
