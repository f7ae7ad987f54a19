import { isObject, ownEntry } from '../field/record.ts';
import { readQuantity, readTolerance, type Unit } from '../quantity/index.ts';
import { MOST_TRIALS, TRIALS } from './claim-schema.ts';
import { placeInside } from './place.ts';
import { readingUnit } from './reading-unit.ts';
import { MOST_SAMPLES, SAMPLES } from './spread-schema.ts';
import { MOST_STEPS, STEPS } from './vary-schema.ts';

/** A number of a cell that a knob can turn. */
export interface CellNumber {
  /** The way from the cell to it, fields and positions in lists. */
  readonly steps: readonly (string | number)[];
  /** The same as messages name places: `until`, `vary.from`, `parts["G1.wave.period"][0]`. */
  readonly place: string;
  /** As it stands in the cell, or what holds while it is left out. */
  readonly raw: unknown;
  /** What it counts in, null for plain numbers; absent where only its value of the board, or its own text, tells. */
  readonly unit?: Unit | null;
  /** The value of the board in whose unit it counts, as ranges name it. */
  readonly of?: string;
  /** A share either way. */
  readonly isTolerance?: true;
  /** A whole number from 1 to this one. */
  readonly most?: number;
  /** Whether it may be left out. */
  readonly isOptional?: true;
  /** How many values stand in the list that it stands in. */
  readonly among?: number;
  /** The places of the numbers that it must lie above and below: the other end of a window, a range, a pair of limits. */
  readonly above?: string;
  readonly below?: string;
}

/** A list of a cell whose values have no knobs, for there are too many of them. */
export interface LongList {
  /** As messages name places: `vary.values`, `stock`. */
  readonly place: string;
  readonly length: number;
}

/** Longest list whose values can be turned one by one: of more nobody finds one in a tray. */
export const LONGEST_LIST = 24;

type About = Pick<CellNumber, 'unit' | 'of' | 'isTolerance' | 'most' | 'above' | 'below' | 'among'>;
type Data = Readonly<Record<string, unknown>>;
type Numbers = readonly CellNumber[];

/**
 * The numbers of a cell that a knob can turn: times, ends and steps of ranges, listed values, limits, tolerances, counts.
 * Seeds are none, which are no more or less of anything; neither are words such as `none` in the place of a number.
 *
 * @param data the cell as it stands in the file, faults included.
 */
export function cellNumbers(data: unknown): Numbers {
  return allNumbers(data).filter(({ among = 0 }) => among <= LONGEST_LIST);
}

/** The lists of a cell that are too long for knobs. */
export function longLists(data: unknown): readonly LongList[] {
  const lengths = allNumbers(data).map(({ steps, among = 0 }) => [placeOf(steps.slice(0, -1)), among] as const);
  return [...new Map(lengths)].flatMap(([place, length]) => (length > LONGEST_LIST ? [{ place, length }] : []));
}

function allNumbers(data: unknown): Numbers {
  if (!isObject(data)) return [];
  const kind = ownEntry(data, 'kind');
  const own = typeof kind === 'string' && Object.hasOwn(numbersOf, kind) ? numbersOf[kind]?.(data) : undefined;
  return own === undefined ? [] : [...own, ...(kind === 'ask' ? [] : windowOf(data, kind === 'claim'))];
}

const numbersOf: Readonly<Record<string, (data: Data) => Numbers>> = {
  trace: () => [],
  fates: () => [],
  reading: () => [],
  capture: () => [],
  sweep: (data) => rangeNumbers(['vary'], ownEntry(data, 'vary')),
  map: (data) => [
    ...rangeNumbers(['x'], ownEntry(data, 'x')),
    ...rangeNumbers(['y'], ownEntry(data, 'y')),
    ...listNumbers(['levels'], ownEntry(data, 'levels'), aboutReading(entries(data, 'take')[0]?.[1])),
  ],
  spread: (data) => [
    ...entries(data, 'parts').flatMap(([name, range]) =>
      Array.isArray(range)
        ? pairNumbers(['parts', name], range, { of: name })
        : single(['parts', name], range, { isTolerance: true }),
    ),
    ...entries(data, 'limits').flatMap(([name, ends]) =>
      pairNumbers(['limits', name], ends, aboutReading(ownField(data, 'take', name))),
    ),
    ...single(['samples'], ownEntry(data, 'samples'), { unit: null, most: MOST_SAMPLES }, SAMPLES),
  ],
  choose: (data) => [
    ...entries(data, 'want').flatMap(([name, wish]) => {
      if (!isObject(wish)) return [];
      const about = aboutReading(ownEntry(wish, 'reading'));
      const within = ownEntry(wish, 'within');
      return [
        ...single(['want', name, 'value'], ownEntry(wish, 'value'), about),
        ...single(['want', name, 'within'], within, withinOf(within, about), '5 %'),
      ];
    }),
    ...entries(data, 'adjust').flatMap(([name, range]) => rangeNumbers(['adjust', name], range, name)),
    ...listNumbers(['stock'], ownEntry(data, 'stock'), {}),
  ],
  claim: (data) => [
    ...entries(data, 'over').flatMap(([name, range]) => rangeNumbers(['over', name], range, name)),
    ...single(['trials'], ownEntry(data, 'trials'), { unit: null, most: MOST_TRIALS }, TRIALS),
  ],
  swaps: (data) => entries(data, 'parts').flatMap(([name, list]) => listNumbers(['parts', name], list, { of: name })),
  symptoms: (data) =>
    entries(data, 'seen').flatMap(([name, seen]) =>
      single(['seen', name], seen, aboutReading(ownField(data, 'take', name))),
    ),
  ask: (data) => single(['within'], ownEntry(data, 'within'), withinOf(ownEntry(data, 'within'), {}), '5 %'),
};

/** The window of a cell in time. A claim may have expressions there, which turn with the values that they name. */
function windowOf(data: Data, mayCalculate: boolean): Numbers {
  const isTime = (raw: unknown): boolean => !mayCalculate || readQuantity(raw, 's').ok;
  const [from, until] = [ownEntry(data, 'from'), ownEntry(data, 'until')];
  return [
    ...(from === undefined || isTime(from) ? single(['from'], from, { unit: 's', below: 'until' }, 0) : []),
    ...(isTime(until) ? single(['until'], until, { unit: 's', above: 'from' }) : []),
  ];
}

/** A range of a value: its ends and steps, or the values that it lists. @param of the value, where it does not say so. */
function rangeNumbers(steps: readonly string[], range: unknown, of?: string): Numbers {
  if (Array.isArray(range)) return listNumbers(steps, range, of === undefined ? {} : { of });
  if (!isObject(range)) return [];
  const named = of ?? ownEntry(range, 'value');
  const about = typeof named === 'string' ? { of: named } : {};
  const [from, to, series] = ['from', 'to', 'series'].map((field) => ownEntry(range, field));
  const isStepped = from !== undefined && to !== undefined && series === undefined;
  return [
    ...single([...steps, 'from'], from, { ...about, below: placeOf([...steps, 'to']) }),
    ...single([...steps, 'to'], to, { ...about, above: placeOf([...steps, 'from']) }),
    ...(isStepped
      ? single([...steps, 'steps'], ownEntry(range, 'steps'), { unit: null, most: MOST_STEPS }, STEPS)
      : []),
    ...listNumbers([...steps, 'values'], ownEntry(range, 'values'), about),
  ];
}

function listNumbers(steps: readonly string[], list: unknown, about: About): Numbers {
  if (!Array.isArray(list)) return [];
  const among = list.length;
  return (list as readonly unknown[]).flatMap((each, index) => single([...steps, index], each, { ...about, among }));
}

/** The two ends of a range that is a list; one of them may be null. */
function pairNumbers(steps: readonly string[], pair: unknown, about: About): Numbers {
  if (!Array.isArray(pair)) return [];
  const [low, high] = pair as readonly unknown[];
  return [
    ...single([...steps, 0], low, { ...about, below: placeOf([...steps, 1]) }),
    ...single([...steps, 1], high, { ...about, above: placeOf([...steps, 0]) }),
  ];
}

/** One number; none where there is nothing, or a word other than a time. @param usual what holds while it is left out. */
function single(steps: CellNumber['steps'], stated: unknown, about: About, usual?: unknown): Numbers {
  const raw = stated ?? usual;
  const isWord = typeof raw === 'string' && (raw.trim() === '' || (about.unit !== 's' && /^[A-Za-z]/.test(raw)));
  if ((typeof raw !== 'number' && typeof raw !== 'string') || isWord) return [];
  const isOptional = usual === undefined ? {} : ({ isOptional: true } as const);
  return [{ steps, place: placeOf(steps), raw, ...isOptional, ...about }];
}

function placeOf(steps: CellNumber['steps']): string {
  return steps.reduce<string>(placeInside, '');
}

/** A number that is counted as a reading is; readings that give lists have none. */
function aboutReading(reading: unknown): About {
  const unit = readingUnit(reading);
  return unit === undefined || unit === 'list' ? {} : { unit };
}

/** How far something may be off: a share of it, or as it is counted itself. */
function withinOf(within: unknown, about: About): About {
  const isShare = within === undefined || (typeof within === 'string' && readTolerance(within).ok);
  return isShare ? { isTolerance: true } : about;
}

function entries(data: Data, field: string): [string, unknown][] {
  const found = ownEntry(data, field);
  return isObject(found) ? Object.entries(found) : [];
}

function ownField(data: Data, field: string, name: string): unknown {
  const found = ownEntry(data, field);
  return isObject(found) ? ownEntry(found, name) : undefined;
}
