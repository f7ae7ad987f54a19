/**
 * Mutation testing: changes the code in small ways, one at a time, and tells which changes no test notices.
 *
 *     npm run mutate                                        all folders, many hours
 *     npm run mutate -- network                             one folder
 *     npm run mutate -- engine/crossing.ts measure/clip.ts  single files
 *     npm run mutate -- --page                              runs nothing, writes the page anew
 *
 * What came out goes into tools/mutation/results.json and from there, with the reasons of tools/mutation/reasons.json,
 * into docs/mutation-score.md.
 */
import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { groupOf, groups, mutatedFiles } from './mutation/groups.js';
import { writePage } from './mutation/page.js';
import { takeReport } from './mutation/results.js';

const asked = process.argv.slice(2).filter((argument) => argument !== '--page');
const files = asked.length > 0 ? asked.flatMap(filesOf) : mutatedFiles();
if (!process.argv.includes('--page')) {
  for (const group of Object.keys(groups)) {
    const sources = files.filter((file) => groupOf(file) === group);
    if (sources.length > 0) run(group, sources);
  }
}
writePage();

/**
 * The files meant by a folder or a file, written from packages/sim/src on.
 *
 * @param {string} name
 */
function filesOf(name) {
  const found = mutatedFiles().filter((file) => file === name || file.startsWith(`${name}/`));
  if (found.length === 0)
    throw new Error(`"${name}" is not a folder or file that is mutated; see tools/mutation/groups.js.`);
  return found;
}

/**
 * Mutates files of one group. Everything else on this computer goes first.
 *
 * @param {string} group
 * @param {readonly string[]} sources
 */
function run(group, sources) {
  const list = sources.map((file) => `packages/sim/src/${file}`).join(',');
  const { status } = spawnSync('nice', ['-n', '15', 'npx', '--no-install', 'stryker', 'run', '--mutate', list], {
    env: { ...process.env, MUTATED: group, JUDGE_TIMES: resolve('test-results/times-of-judges.json') },
    stdio: 'inherit',
  });
  if (status !== 0) throw new Error(`The mutation run of ${group} ended with status ${status}.`);
  takeReport('test-results/mutation.json', sources);
}
