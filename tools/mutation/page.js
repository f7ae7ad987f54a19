import { readFileSync, writeFileSync } from 'node:fs';
import { mutatedFiles } from './groups.js';
import { digestOf, readResults } from './results.js';

const page = 'docs/mutation-score.md';

/**
 * Why a survivor is left: in which line (a part of its text), what it becomes (any if it is not stated), and whether no
 * test can notice it ("equivalent"), one could but would say nothing worth its cost ("not worth a test"), or one has been
 * written since the run ("noticed since").
 *
 * @typedef {{ in: string, becomes?: string | string[], why: string }} Reason
 */

/** @typedef {import('./results.js').FileResult} FileResult */
/** @typedef {import('./results.js').Survivor} Survivor */

/** Writes the page of scores from the results and reasons that are kept. */
export function writePage() {
  const results = readResults();
  /** @type {Record<string, Reason[]>} */
  const reasons = JSON.parse(readFileSync('tools/mutation/reasons.json', 'utf8'));
  const files = mutatedFiles();
  const ran = files.filter((file) => results[file] !== undefined);
  const text = [
    introduction,
    ...scores(ran, results, reasons),
    ...survivors(ran, results, reasons),
    '## Not run',
    '',
    files.length === ran.length ? 'None.' : files.filter((file) => !ran.includes(file)).join(', ') + '.',
    '',
  ];
  writeFileSync(page, text.join('\n'));
  for (const [file, list] of Object.entries(reasons)) {
    const left = results[file]?.survivors ?? [];
    for (const reason of list.filter((each) => !left.some((survivor) => explains(each, survivor)))) {
      console.warn(`tools/mutation/reasons.json: no survivor of ${file} is left for the reason of "${reason.in}".`);
    }
  }
}

const introduction = `# Mutation score

Written by \`npm run mutate\` (\`npm run mutate -- --page\` without a run); do not edit.

A mutant is the code with one small change: a comparison turned round, a sum made a difference, a block emptied. It is noticed when a test fails or no longer ends. A mutant that no test notices shows a test that is missing, code that does nothing, or a change that makes no difference; each that is left has its reason below.

- The mutants of each file are judged by the tests that \`tools/mutation/groups.js\` names: those that belong to it and are quick; each mutant by the quickest that reach it, for a second of a processor, and laws with a fifth of their usual cases. \`npm test\` holds the code to much more: laws on thousands of random circuits, runs of a million periods, the worked examples, journeys. A survivor here may well fall there.
- Strings are not mutated. A string here is either a sentence for people, of which an empty one says nothing about the computation behind it, or a name of a few that the types permit, where an empty one does not compile.
- Mutants outside of functions, in constants, are left out: every test would have to run for each.

The score is noticed / mutants; beside it stands what it is once those that are equivalent, by the reasons below, are taken off. "Noticed since" means that a test has been written after the run and that the mutant, put in by hand, failed it; it counts as not noticed until the file is run again. "Changed since" means that the code has.
`;

/**
 * @param {readonly string[]} files
 * @param {Record<string, FileResult>} results
 * @param {Record<string, Reason[]>} reasons
 */
function scores(files, results, reasons) {
  let [all, noticed, equivalent] = [0, 0, 0];
  const rows = files.map((file) => {
    const result = /** @type {FileResult} */ (results[file]);
    const same = result.survivors.filter((survivor) => isEquivalent(reasonOf(reasons[file], survivor))).length;
    const unexplained = result.survivors.filter((survivor) => reasonOf(reasons[file], survivor) === undefined).length;
    const mutants = result.noticed + result.survivors.length;
    all += mutants;
    noticed += result.noticed;
    equivalent += same;
    const changed =
      digestOf(readFileSync(`packages/sim/src/${file}`, 'utf8')) === result.source ? '' : ' (changed since)';
    return `| ${file}${changed} | ${mutants} | ${result.noticed} | ${share(result.noticed, mutants)} | ${share(result.noticed, mutants - same)} | ${same} | ${unexplained} | ${result.date} |`;
  });
  return [
    '## Scores',
    '',
    '| file | mutants | noticed | score | score without equivalent ones | equivalent | without a reason yet | run |',
    '| --- | --: | --: | --: | --: | --: | --: | --- |',
    ...rows,
    `| together | ${all} | ${noticed} | ${share(noticed, all)} | ${share(noticed, all - equivalent)} | ${equivalent} | | |`,
    '',
  ];
}

/**
 * @param {readonly string[]} files
 * @param {Record<string, FileResult>} results
 * @param {Record<string, Reason[]>} reasons
 */
function survivors(files, results, reasons) {
  const text = ['## Survivors', ''];
  for (const file of files) {
    const left = /** @type {FileResult} */ (results[file]).survivors;
    if (left.length === 0) continue;
    text.push(`### ${file}`, '', '| line | what | becomes | why it is left |', '| --: | --- | --- | --- |');
    for (const survivor of left) {
      const why =
        reasonOf(reasons[file], survivor) ?? (survivor.run ? 'no reason yet' : 'no reason yet; no test runs it');
      text.push(`| ${survivor.line} | ${code(survivor.was)} | ${code(survivor.becomes)} | ${why} |`);
    }
    text.push('');
  }
  return text;
}

/**
 * @param {Reason[] | undefined} reasons
 * @param {Survivor} survivor
 */
function reasonOf(reasons, survivor) {
  return reasons?.find((reason) => explains(reason, survivor))?.why;
}

/**
 * @param {Reason} reason
 * @param {Survivor} survivor
 */
function explains(reason, { text, becomes }) {
  return text.includes(reason.in) && (reason.becomes === undefined || [reason.becomes].flat().includes(becomes));
}

/** @param {string | undefined} why */
function isEquivalent(why) {
  return why?.startsWith('equivalent') ?? false;
}

/**
 * @param {number} part
 * @param {number} whole
 */
function share(part, whole) {
  return whole === 0 ? '' : `${((100 * part) / whole).toFixed(1)} %`;
}

/** @param {string} text */
function code(text) {
  return text === '' ? '' : `\`${text.replaceAll('|', '\\|').replaceAll('`', "'")}\``;
}
