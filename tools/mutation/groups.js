import { readdirSync } from 'node:fs';

/**
 * Which tests judge mutants of which files of packages/sim/src: the tests that belong to them, and of others those that
 * were written for them and are quick. A mutant that survives costs all of them, so what takes seconds (thousands of
 * random circuits, runs of a million periods, anything that measures speed) is not among them, though `npm test` holds the
 * code to it as well. A file belongs to the first group that has it.
 *
 * @type {Readonly<Record<string, { readonly files: RegExp, readonly tests: RegExp }>>}
 */
export const groups = {
  control: {
    files: /^network\/(closed-loop|controlled-mode|feedback-spectrum|ports)\./,
    tests:
      /^tests\/(sim\/network\/(circuit-equations|controlled-branches|feedback-spectrum)|sim\/device\/transistor|sim\/engine\/transistor-feedback|reference\/transistor-gain)\.test\.ts$/,
  },
  network: {
    files: /^network\//,
    tests:
      /^tests\/(sim\/network\/.*|sim\/device\/transistor|sim\/engine\/(ideal-switch-at-rest|transistor-feedback)|reference\/(independent-capacitors|transistor-gain))\.test\.ts$/,
  },
  timer: {
    files: /^device\/timer/,
    tests:
      /^tests\/(sim\/device\/(families|family-changes|supply|supply-disturbed|timer-.*|transition-charge)|sim\/measure\/timer-causes|reference\/(common-practice|published|published-logic))\.test\.ts$/,
  },
  measure: {
    files: /^measure\//,
    tests: /^tests\/sim\/(measure\/.*|run\/live-faults)\.test\.ts$/,
  },
  roots: {
    files: /^engine\/(crossing|only-zero|powers)\./,
    tests:
      /^tests\/(sim\/engine\/(approaching-a-limit|crossing|only-zero|powers|resting-on-a-limit|rounding-of-far-aims|ties)|laws\/roots)\.test\.ts$/,
  },
  lines: {
    files: /^engine\/(guard-lines|volt-scale|ways-back)\./,
    tests: /^tests\/sim\/engine\/(guard-lines|powers|volt-scale)\.test\.ts$/,
  },
  limits: {
    files: /^engine\/(guard-check|leaving-a-limit)\./,
    tests:
      /^tests\/sim\/engine\/(approaching-a-limit|conditioning|guard-check|no-way-back|outcomes|resting-on-a-limit|slow-over-a-limit|snap|ties|transistor-feedback)\.test\.ts$/,
  },
  agenda: {
    files: /^engine\/(waiting-events|event-counter|period-search)\./,
    tests: /^tests\/sim\/engine\/(waiting-events|event-counter|period-search)\.test\.ts$/,
  },
  foreseen: {
    files: /^engine\/(foreseen-step|outlook)\./,
    tests: /^tests\/sim\/engine\/(foreseen-step|outlook|pitfalls|ties)\.test\.ts$/,
  },
  'consistent pieces': {
    files: /^engine\/consistent-pieces\./,
    tests:
      /^tests\/(sim\/engine\/(consistent-pieces|transistor-feedback)|sim\/device\/transistor|laws\/consistent-state)\.test\.ts$/,
  },
  'one state': {
    files: /^engine\/one-state-/,
    tests: /^tests\/sim\/engine\/one-state.*\.test\.ts$/,
  },
  engine: {
    files: /^engine\//,
    tests: /^tests\/sim\/(engine\/(?!speed|long-runs|one-state|rounding).*|run\/.*)\.test\.ts$/,
  },
};

/** All files that are mutated, from packages/sim/src on. */
export function mutatedFiles() {
  return ['network', 'device', 'measure', 'engine'].flatMap((folder) =>
    readdirSync(`packages/sim/src/${folder}`, { recursive: true, encoding: 'utf8' })
      .map((file) => `${folder}/${file.replaceAll('\\', '/')}`)
      .filter((file) => file.endsWith('.ts') && groupOf(file) !== undefined)
      .sort(),
  );
}

/**
 * The name of the group that a file belongs to, if its mutants are looked at at all.
 *
 * @param {string} file from packages/sim/src on
 */
export function groupOf(file) {
  return Object.keys(groups).find((name) => groups[name]?.files.test(file));
}
