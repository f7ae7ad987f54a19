import * as v from 'valibot';
import { isName, nameFault } from '../circuit/names.ts';
import { seriesNames } from '../quantity/index.ts';
import { fieldsWording, wording } from './schema-wording.ts';

/** Most readings that one choice wants, and most values that it may choose. */
const MOST_WISHES = 12;
const MOST_ADJUSTED = 6;
/** Most values of one list. */
const MOST_LISTED = 1000;

/** What a reading should be; quantities are read when the reading is known. */
export interface WrittenWish {
  readonly reading: string;
  readonly value: unknown;
  /** How far off it may be: a share (`"5 %"`) or a quantity. */
  readonly within: unknown;
}

/**
 * Which values may be chosen: `"E12"`, a series over the usual range of its kind; `"stock"`; a series with its range; or a
 * list.
 */
export type Adjusted =
  | string
  | readonly unknown[]
  | { readonly series: string; readonly from: unknown; readonly to: unknown };

const series = wording(`be one of ${seriesNames.join(', ')}`, 'Write for example "E12".');
const list = v.pipe(
  v.array(v.unknown()),
  v.minLength(1, wording('hold at least one value', 'Write for example ["10 nF", "100 nF"].')),
  v.maxLength(MOST_LISTED, wording(`hold at most ${MOST_LISTED} values`, 'Leave some out.')),
);
const ranged = v.strictObject(
  { series: v.picklist(seriesNames, series), from: v.unknown(), to: v.unknown() },
  fieldsWording('a range of preferred values', ['series', 'from', 'to']),
);
const adjusted = wording(
  `be a series (${seriesNames.join(', ')}), "stock", a list of values, or { series, from, to }`,
  'Write for example "E12" or ["10 nF", "100 nF"].',
);

const wish = v.strictObject(
  {
    reading: v.string(wording('be a reading in double quotes', 'Write for example "width(out)".')),
    value: v.unknown(),
    within: v.optional(v.unknown(), '5 %'),
  },
  fieldsWording('a wish', ['reading', 'value', 'within']),
);

const want = wording(
  'be an object of wishes by name',
  'Write for example { "width": { "reading": "width(out)", "value": "4.5 s", "within": "5 %" } }.',
);
const adjust = wording('be an object of values and what they may be', 'Write for example { "R1": "E12" }.');

const wishName = v.pipe(
  v.string((issue) => nameFault(issue.input, 'width') ?? ''),
  v.check(isName, (issue) => nameFault(issue.input, 'width') ?? ''),
);

/** Fields of a choose cell beside those of every run. */
export const chooseFields = {
  want: v.pipe(
    v.record(wishName, wish, want),
    v.check((found) => Object.keys(found).length > 0, want),
    v.check(
      (found) => Object.keys(found).length <= MOST_WISHES,
      wording(`hold at most ${MOST_WISHES} wishes`, 'Leave some out.'),
    ),
  ),
  adjust: v.pipe(
    v.record(v.string(), v.union([v.string(), list, ranged], adjusted), adjust),
    v.check((found) => Object.keys(found).length > 0, adjust),
    v.check(
      (found) => Object.keys(found).length <= MOST_ADJUSTED,
      wording(`hold at most ${MOST_ADJUSTED} values`, 'Leave some out.'),
    ),
  ),
  stock: v.optional(v.array(v.unknown(), wording('be a list of values', 'Write for example ["10 kΩ", "100 nF"].')), []),
};
