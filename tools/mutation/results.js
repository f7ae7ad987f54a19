import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';

const kept = 'tools/mutation/results.json';

/**
 * A mutant that no test noticed: where, the line and what of it became what.
 *
 * @typedef {{ line: number, text: string, was: string, becomes: string, run: boolean }} Survivor
 */

/**
 * What became of the mutants of one file. `source` is a digest of the file as it was run, `left` the mutants that do not
 * count: texts, and those outside of functions.
 *
 * @typedef {{ date: string, source: string, noticed: number, left: number, survivors: Survivor[] }} FileResult
 */

/** @typedef {{ line: number, column: number }} Place */
/** @typedef {{ status: string, replacement?: string, location: { start: Place, end: Place } }} Mutant */

/**
 * All results so far, by file from packages/sim/src on.
 *
 * @returns {Record<string, FileResult>}
 */
export function readResults() {
  return existsSync(kept) ? JSON.parse(readFileSync(kept, 'utf8')) : {};
}

/**
 * Takes files of a report into the results.
 *
 * @param {string} path
 * @param {readonly string[]} sources the files that were run, from packages/sim/src on
 */
export function takeReport(path, sources) {
  const results = readResults();
  /** @type {{ files: Record<string, { source: string, mutants: Mutant[] }> }} */
  const report = JSON.parse(readFileSync(path, 'utf8'));
  const date = new Date().toISOString().slice(0, 10);
  for (const file of sources) {
    const ran = report.files[`packages/sim/src/${file}`];
    // A file without a single mutant is in no report.
    const { source, mutants } = ran ?? { source: readFileSync(`packages/sim/src/${file}`, 'utf8'), mutants: [] };
    const survivors = mutants
      .filter(({ status }) => status === 'Survived' || status === 'NoCoverage')
      .map((mutant) => survivorOf(source.split('\n'), mutant))
      .sort((p, q) => p.line - q.line);
    const noticed = mutants.filter(({ status }) => status === 'Killed' || status === 'Timeout').length;
    const left = mutants.length - noticed - survivors.length;
    results[file] = { date, source: digestOf(source), noticed, left, survivors };
  }
  const sorted = Object.fromEntries(Object.entries(results).sort(([p], [q]) => (p < q ? -1 : 1)));
  writeFileSync(kept, `${JSON.stringify(sorted, undefined, 1)}\n`);
}

/**
 * A short digest of a file's text.
 *
 * @param {string} text
 */
export function digestOf(text) {
  return createHash('sha256').update(text).digest('hex').slice(0, 12);
}

/**
 * @param {string[]} lines
 * @param {Mutant} mutant
 * @returns {Survivor}
 */
function survivorOf(lines, { status, replacement = '', location: { start, end } }) {
  const text = lines[start.line - 1] ?? '';
  const was = text.slice(start.column - 1, end.line === start.line ? end.column - 1 : undefined);
  const becomes = replacement.replace(/\s+/g, ' ').slice(0, 120);
  return { line: start.line, text: text.trim(), was, becomes, run: status === 'Survived' };
}
