import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { createServer, createServerModuleRunner, defaultClientConditions, defaultServerConditions } from 'vite';
import { groups } from './groups.js';

/** @typedef {import('./test-words.js').Suite} Suite */
/** @typedef {import('./test-words.js').Test & { id: string, file: string, milliseconds: number }} Judge */
/** @typedef {{ id: string, name: string, fileName: string, timeSpentMs: number } & ({ status: 0 | 2 } | { status: 1, failureMessage: string })} Verdict */

const WORDS = resolve('tools/mutation/test-words.js');

/** What every judging file needs first, as in `npm test`; and nobody is told the simplest case that fails. */
const SETUP = ['tests/support/property-runs.ts', 'tests/support/first-failure.ts'];

/** How often each mutant is reached while a file is read, and by each test; mutated code counts it. */
const coverage = {
  /** @type {Record<string, number>} */
  static: {},
  /** @type {Record<string, Record<string, number>>} */
  perTest: {},
};

/** What mutated code and whoever runs it tell each other. */
const told = { mutantCoverage: coverage, counting: true, ...noMutant() };
Object.assign(globalThis, { __stryker__: told });

/** Mutated code counts at every turn what it reaches, which takes most of its time. */
const countOnlyWhenAsked = {
  name: 'count-only-when-asked',
  transform: (/** @type {string} */ code) => code.replace('function cover() {', '$& if (!ns.counting) return;'),
};

/** A test that takes longer (ms of a processor) judges nothing. */
const LONGEST = 500;
/** How long a mutant is judged (ms of a processor): by the quickest tests that reach it, until they have taken so long. */
const ENOUGH = 1000;

/** Where the times that tests took are kept from run to run; delete it when tests have become quicker. */
const TIMES = process.env['JUDGE_TIMES'] ?? 'times-of-judges.json';

/** Under which name is counted what a suite does before its tests. */
const BEGIN = 'beginning of a suite';

/**
 * Runs the tests that judge mutants in this process: they are read once, and a mutant costs only the tests that reach it,
 * the quickest first, up to the first that fails. That is ten to a hundred times quicker than a new thread for each.
 *
 * It rests on code without state of its own (the library has none): so that it would not go unnoticed if a mutant spoilt
 * something for those that follow, a test that has failed is run again without the mutant, and must pass.
 */
class QuickRunner {
  /** @type {readonly string[]} it asks nothing of whoever makes it */
  static inject = [];

  /** @type {Judge[]} @readonly */
  #judges = [];
  /** @type {Map<string, number>} ms of a processor that each test is known to take */
  #times = new Map();
  /** @type {(() => Promise<void>) | undefined} */
  #close;

  /** Mutants that act only while a file is read are left out, so that nothing has ever to be read anew. */
  capabilities() {
    return { reloadEnvironment: true };
  }

  async init() {
    const server = await createServer({
      configFile: false,
      appType: 'custom',
      logLevel: 'error',
      plugins: [countOnlyWhenAsked],
      server: { middlewareMode: true, watch: null, hmr: false, ws: false },
      optimizeDeps: { noDiscovery: true },
      resolve: { alias: { vitest: WORDS }, conditions: ['source', ...defaultClientConditions] },
      ssr: { resolve: { conditions: ['source', ...defaultServerConditions] } },
    });
    const ssr = server.environments['ssr'];
    if (ssr === undefined) throw new Error('vite has no environment for code outside of a browser.');
    const modules = createServerModuleRunner(ssr, { hmr: false, sourcemapInterceptor: false });
    this.#close = async () => {
      await modules.close();
      await server.close();
    };
    for (const file of SETUP) await modules.import(resolve(file));
    const { collect } = await modules.import(WORDS);
    this.#times = new Map(existsSync(TIMES) ? JSON.parse(readFileSync(TIMES, 'utf8')) : []);
    for (const file of judgingFiles()) {
      const found = /** @type {import('./test-words.js').Test[]} */ (
        await collect(() => modules.import(resolve(file)))
      );
      for (const test of found) {
        const id = `${file}#${nameOf(test)}`;
        if (this.#judges.some((judge) => judge.id === id)) throw new Error(`Two tests have the name ${id}.`);
        this.#judges.push({ ...test, id, file, milliseconds: this.#times.get(id) ?? 0 });
      }
    }
  }

  async dryRun() {
    told.counting = true;
    const quick = this.#judges.filter(({ milliseconds }) => milliseconds <= LONGEST);
    const verdicts = await this.#run(quick, false);
    // Counting takes most of the time, and a test that is run first waits for its code: how long each takes when it judges.
    told.counting = false;
    const unknown = quick.filter(({ id }) => !this.#times.has(id));
    for (const judge of unknown) judge.milliseconds = 0;
    await this.#run(unknown, false);
    for (const { id, milliseconds } of this.#judges) {
      this.#times.set(id, milliseconds);
      if (milliseconds > LONGEST) delete coverage.perTest[id];
    }
    writeFileSync(TIMES, JSON.stringify([...this.#times]));
    // The code goes on to count into the same object.
    const mutantCoverage = structuredClone(coverage);
    return { status: 'complete', tests: verdicts, mutantCoverage };
  }

  /** @param {{ testFilter?: string[], hitLimit?: number, activeMutant: { id: string } }} options */
  async mutantRun({ testFilter, hitLimit, activeMutant }) {
    const asked = new Set(testFilter);
    const judges = this.#judges.filter(({ id }) => testFilter === undefined || asked.has(id));
    judges.sort((p, q) => p.milliseconds - q.milliseconds);
    let time = 0;
    const enough = judges.findIndex(({ milliseconds }) => (time += milliseconds) > ENOUGH);
    if (enough >= 0) judges.length = Math.max(1, enough);
    Object.assign(told, { counting: false, activeMutant: activeMutant.id, hitCount: 0, hitLimit });
    const verdicts = await this.#run(judges, true);
    const hits = told.hitCount ?? 0;
    Object.assign(told, noMutant());
    const failed = verdicts.at(-1);
    if (failed?.status === 1) {
      const again = await this.#run(
        judges.filter(({ id }) => id === failed.id),
        true,
      );
      if (again.some(({ status }) => status === 1)) {
        throw new Error(`${failed.id} fails without a mutant as well, since mutant ${activeMutant.id} has been run.`);
      }
    }
    const nrOfTests = verdicts.length;
    if (hitLimit !== undefined && hits > hitLimit) return { status: 'timeout', reason: `Reached ${hits} times.` };
    if (failed?.status === 1) {
      return { status: 'killed', killedBy: [failed.id], failureMessage: failed.failureMessage, nrOfTests };
    }
    return { status: 'survived', nrOfTests };
  }

  async dispose() {
    await this.#close?.();
  }

  /**
   * Runs tests one after the other; what a suite does before its tests is done when its first test is reached, and what
   * that reaches counts as reached by each of them.
   *
   * @param {readonly Judge[]} judges
   * @param {boolean} untilFailure
   */
  async #run(judges, untilFailure) {
    /** @type {Map<Suite, Error | undefined>} what went wrong at the beginning of each suite */
    const begun = new Map();
    /** @type {Verdict[]} */
    const verdicts = [];
    for (const judge of judges) {
      const suites = suitesOf(judge.suite);
      const [start, processor] = [performance.now(), process.cpuUsage()];
      const error = await errorOf(async () => {
        for (const suite of suites) {
          if (!begun.has(suite)) begun.set(suite, await this.#begin(suite));
          const spoilt = begun.get(suite);
          if (spoilt !== undefined) throw spoilt;
        }
        told.currentTestId = judge.id;
        for (const suite of suites) await inTurn(suite.beforeEach);
        await judge.body();
        for (const suite of suites.toReversed()) await inTurn(suite.afterEach);
      });
      told.currentTestId = undefined;
      const { user, system } = process.cpuUsage(processor);
      judge.milliseconds ||= (user + system) / 1000;
      const { id, file } = judge;
      const verdict = { id, name: nameOf(judge), fileName: resolve(file), timeSpentMs: performance.now() - start };
      if (error === undefined) {
        verdicts.push({ ...verdict, status: 0 });
      } else {
        verdicts.push({ ...verdict, status: 1, failureMessage: error.message });
        if (untilFailure) break;
      }
    }
    for (const suite of begun.keys()) await errorOf(() => inTurn(suite.afterAll));
    return verdicts;
  }

  /** @param {Suite} suite */
  async #begin(suite) {
    if (suite.beforeAll.length === 0) return undefined;
    told.currentTestId = BEGIN;
    const error = await errorOf(() => inTurn(suite.beforeAll));
    const { perTest } = coverage;
    for (const { id } of this.#judges.filter((judge) => suitesOf(judge.suite).includes(suite))) {
      for (const [mutant, hits] of Object.entries(perTest[BEGIN] ?? {})) {
        const own = (perTest[id] ??= {});
        own[mutant] = (own[mutant] ?? 0) + hits;
      }
    }
    delete perTest[BEGIN];
    return error;
  }
}

/** @returns {{ activeMutant?: string, currentTestId?: string, hitCount?: number, hitLimit?: number }} */
function noMutant() {
  return { activeMutant: undefined, currentTestId: undefined, hitCount: undefined, hitLimit: undefined };
}

function judgingFiles() {
  const group = groups[process.env['MUTATED'] ?? ''];
  if (group === undefined) throw new Error(`MUTATED names no group of tools/mutation/groups.js.`);
  return readdirSync('tests', { recursive: true, encoding: 'utf8' })
    .map((file) => `tests/${file.replaceAll('\\', '/')}`)
    .filter((file) => group.tests.test(file))
    .sort();
}

/** @param {import('./test-words.js').Test} test */
function nameOf({ name, suite }) {
  return suitesOf(suite)
    .map((each) => each.name)
    .concat(name)
    .join('');
}

/**
 * A suite and those around it, the outermost first.
 *
 * @param {Suite} suite
 * @returns {Suite[]}
 */
function suitesOf(suite) {
  return suite.parent === undefined ? [suite] : [...suitesOf(suite.parent), suite];
}

/** @param {readonly import('./test-words.js').Step[]} steps */
async function inTurn(steps) {
  for (const step of steps) await step();
}

/** @param {() => Promise<void>} step */
async function errorOf(step) {
  try {
    await step();
  } catch (thrown) {
    return thrown instanceof Error ? thrown : new Error(`Not an error was thrown, but ${JSON.stringify(thrown)}.`);
  }
  return undefined;
}

export const strykerPlugins = [{ kind: 'TestRunner', name: 'quick', injectableClass: QuickRunner }];
