import { quoteText, type StudyResult } from '@two-thirds/sim/document';

/** A number of a study: what it is called in a sentence, and the name under which notes quote it. */
type Named = readonly [words: string, name: string];

/** Flags of combinations by the name under which their number is quoted, in words. */
const FLAGS: readonly Named[] = [
  ['unsafe', 'unsafe'],
  ['over a limit', 'over_limit'],
  ['too little supply', 'supply_low'],
  ['never start', 'never_starts'],
  ['never end', 'never_ends'],
  ['too fast', 'too_fast'],
  ['flashing', 'flashing'],
  ['inaudible', 'inaudible'],
];

/**
 * The numbers of a study that are told where they change, as a name, what it is now and what it was; undefined for studies
 * whose result is no few numbers.
 */
export function studyEntries(now: StudyResult, before: StudyResult): (readonly [string, string, string])[] | undefined {
  if (now.kind !== before.kind) return undefined;
  return namesOf(now)?.map(([words, name]) => [words, quoteText(now, name), quoteText(before, name)]);
}

function namesOf(result: StudyResult): readonly Named[] | undefined {
  switch (result.kind) {
    case 'sweep': {
      const jumps: readonly Named[] = result.marks.length === 0 ? [] : [['jumps', 'jumps']];
      const errors = result.against.map(({ reading }): Named => [`error of ${reading}`, `${reading}.error`]);
      return [...result.series.flatMap(({ name }) => ends(name)), ...errors, ...jumps];
    }
    case 'spread':
      return result.readings.flatMap(({ name, limits }): Named[] => [
        [`mean ${name}`, `${name}.mean`],
        ...ends(name),
        ...(limits === null ? [] : [[`${name} inside its limits`, `${name}.share`] as const]),
      ]);
    case 'choose':
      return [
        ...result.adjust.map(({ value }): Named => [value, value]),
        ...result.want.map(({ name }): Named => [name, name]),
        ['sets that grant all wishes', 'granted'],
      ];
    case 'claim':
      return [
        ['verdict', 'verdict'],
        ...result.over.flatMap(({ value }): Named[] => [
          [`${value} holds from`, `${value}.from`],
          [`${value} holds up to`, `${value}.to`],
        ]),
      ];
    case 'swaps':
      return [
        ['ranked', 'ranked'],
        ...FLAGS.filter(([, name]) => quoteText(result, name) !== '0'),
        ...result.readings.flatMap(({ name }) => ends(name)),
      ];
    default:
      return undefined;
  }
}

function ends(name: string): Named[] {
  return [
    [`least ${name}`, `${name}.least`],
    [`greatest ${name}`, `${name}.greatest`],
  ];
}
