import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  ChaiStyleAssertions,
  customMatchers,
  GLOBAL_EXPECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from '@vitest/expect';

/**
 * Takes the place of 'vitest' where mutants are judged: the words that tests are written in, for tests that are read once
 * and run often. What is not here is not used by the tests that judge.
 *
 * @typedef {() => unknown} Step
 * @typedef {{ name: string, parent?: Suite, beforeAll: Step[], afterAll: Step[], beforeEach: Step[], afterEach: Step[] }} Suite
 * @typedef {{ name: string, suite: Suite, body: Step }} Test
 */

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(ChaiStyleAssertions);
chai.use(JestAsymmetricMatchers);

/** @type {any} */
const matchers = globalThis;

export const expect = Object.assign(
  (/** @type {unknown} */ value, /** @type {string | undefined} */ message) => chai.expect(value, message),
  chai.expect,
  matchers[ASYMMETRIC_MATCHERS_OBJECT],
);
Object.defineProperty(globalThis, GLOBAL_EXPECT, { value: expect, writable: true, configurable: true });
expect.extend = (/** @type {any} */ more) => /** @type {any} */ (chai.expect).extend(expect, more);
expect.extend(customMatchers);

/** @type {Test[]} */
let tests = [];
let suite = newSuite('');

/**
 * The tests that a file registers while it is read.
 *
 * @param {() => Promise<unknown>} read
 */
export async function collect(read) {
  tests = [];
  suite = newSuite('');
  await read();
  return tests;
}

/**
 * @param {string} name
 * @param {Suite} [parent]
 * @returns {Suite}
 */
function newSuite(name, parent) {
  return { name, parent, beforeAll: [], afterAll: [], beforeEach: [], afterEach: [] };
}

/**
 * @param {string} name
 * @param {unknown[]} rest the body, which may stand behind options or before a time limit
 */
function addTest(name, ...rest) {
  const body = /** @type {Step} */ (rest.find((each) => typeof each === 'function'));
  tests.push({ name, suite, body });
}

/**
 * @param {string} name
 * @param {unknown[]} rest
 */
function addSuite(name, ...rest) {
  const body = /** @type {Step} */ (rest.find((each) => typeof each === 'function'));
  const outer = suite;
  suite = newSuite(`${name} `, outer);
  body();
  suite = outer;
}

/**
 * One test or suite for each row; the number of the row tells them apart.
 *
 * @param {(name: string, body: Step) => void} add
 * @param {boolean} spread whether a row that is a list is taken as arguments
 */
function forRows(add, spread) {
  return (/** @type {readonly unknown[]} */ rows) =>
    (/** @type {string} */ name, /** @type {unknown[]} */ ...rest) => {
      const body = /** @type {(...values: unknown[]) => unknown} */ (rest.find((each) => typeof each === 'function'));
      rows.forEach((row, index) => {
        add(`${name} (${index + 1})`, () => (spread && Array.isArray(row) ? body(...row) : body(row)));
      });
    };
}

export const test = Object.assign(addTest, {
  each: forRows(addTest, true),
  for: forRows(addTest, false),
  runIf: (/** @type {boolean} */ condition) => (condition ? addTest : () => {}),
});
export { test as it };
export const describe = Object.assign(addSuite, { each: forRows(addSuite, true), for: forRows(addSuite, false) });
export const beforeAll = (/** @type {Step} */ step) => void suite.beforeAll.push(step);
export const afterAll = (/** @type {Step} */ step) => void suite.afterAll.push(step);
export const beforeEach = (/** @type {Step} */ step) => void suite.beforeEach.push(step);
export const afterEach = (/** @type {Step} */ step) => void suite.afterEach.push(step);
export const vi = { setConfig() {} };
