/**
 * Prints the totals of the last `npm test` as one line, `N passed, N failed`, and fails unless every test passed and
 * there was at least one. A test file that could not be loaded counts as a failed test.
 */
import { readFileSync } from 'node:fs';

/** @typedef {{ status: string, assertionResults: { status: string }[] }} FileResult */

const totals = readTotals('test-results/summary.json');
console.log(`${totals.passed} passed, ${totals.failed} failed`);
process.exitCode = totals.failed > 0 || totals.passed === 0 ? 1 : 0;

/**
 * @param {string} path
 * @returns {{ passed: number, failed: number }}
 */
function readTotals(path) {
  /** @type {FileResult[]} */
  let files;
  try {
    /** @type {{ testResults: FileResult[] }} */
    const summary = JSON.parse(readFileSync(path, 'utf8'));
    files = summary.testResults;
  } catch {
    // The run ended before it could write its results.
    return { passed: 0, failed: 1 };
  }
  const results = files.flatMap((file) => file.assertionResults);
  const passed = results.filter((result) => result.status === 'passed').length;
  const failedTests = results.filter((result) => result.status === 'failed').length;
  const unloadedFiles = files.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((result) => result.status === 'failed'),
  ).length;
  return { passed, failed: failedTests + unloadedFiles };
}
