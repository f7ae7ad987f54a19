import { listedText } from '../core/listed-text.ts';
import * as v from 'valibot';
import { isName, nameFault } from '../circuit/names.ts';
import { type Unit, readQuantity } from '../quantity/index.ts';
import { type Cell, SECTIONS, SYMBOL_STANDARDS } from './notebook-document.ts';
import { captureFields } from './capture-schema.ts';
import { claimEntries } from './claim-schema.ts';
import { chooseFields } from './choose-schema.ts';
import { fieldsWording, wording } from './schema-wording.ts';
import { spreadFields } from './spread-schema.ts';
import { againstSchema } from './against-schema.ts';
import { swapsEntries } from './swaps-schema.ts';
import { symptomsEntries } from './symptoms-schema.ts';
import { varySchema } from './vary-schema.ts';

/** Kinds of cells that this version computes. */
export const CELL_KINDS = [
  'note',
  'board',
  'trace',
  'fates',
  'reading',
  'formula',
  'sweep',
  'map',
  'spread',
  'choose',
  'swaps',
  'symptoms',
  'claim',
  'capture',
  'ask',
] as const;

/** Most lanes of one trace: what still can be read as one picture. */
export const MOST_LANES = 24;

/** Most readings of one reading cell. */
export const MOST_READINGS = 200;

/** Most readings of one sweep: what still can be read as one picture. */
export const MOST_SERIES = 24;

/** Most levels of one map. */
const MOST_LEVELS = 100;

const namePattern = (example: string) =>
  v.pipe(
    v.string((issue) => nameFault(issue.input, example) ?? ''),
    v.check(isName, (issue) => nameFault(issue.input, example) ?? ''),
  );

const quantity = (unit: Unit) =>
  v.pipe(
    v.unknown(),
    v.rawTransform<unknown, number>(({ dataset, addIssue, NEVER }) => {
      const read = readQuantity(dataset.value, unit);
      if (read.ok) return read.value;
      addIssue({ message: read.message });
      return NEVER;
    }),
  );

const from = v.optional(v.pipe(quantity('s'), v.minValue(0, wording('be at least 0 s', 'A run starts at 0.'))), 0);
const until = v.pipe(
  quantity('s'),
  v.check((time) => time > 0, wording('be more than 0 s', 'Say how long the run lasts, for example "6 s".')),
);

const choice = <const Options extends readonly string[]>(options: Options) =>
  v.picklist(options, wording(`be ${oneOf(options)}`, 'Choose one of them, or leave the field out.'));

const everyCell = {
  id: namePattern('numbers'),
  section: v.optional(choice(SECTIONS)),
};
const board = v.string(wording('be the name of a board', 'Write for example "counter".'));
const runCell = { ...everyCell, board, from, until };
const yesNo = v.optional(v.boolean(wording('be true or false', 'Write one of them without quotes.')), false);

const cell = <const Kind extends string, const Entries extends v.ObjectEntries>(kind: Kind, entries: Entries) => {
  const all = { kind: v.literal(kind), ...entries };
  return v.strictObject(all, fieldsWording(`${kind === 'ask' ? 'an' : 'a'} ${kind} cell`, Object.keys(all)));
};

const textOf = (what: string, example: string) => v.string(wording(`be ${what}`, `Write for example ${example}.`));

const noteCell = cell('note', {
  ...everyCell,
  text: textOf('text in double quotes', '"What happens if R1 is doubled?"'),
});

const formulaCell = cell('formula', {
  ...everyCell,
  text: textOf('an expression in double quotes', '"1.1 * counter.R1 * counter.C1"'),
});

const askCell = cell('ask', {
  ...everyCell,
  question: textOf('text in double quotes', '"How long does the output stay high?"'),
  answer: textOf('a number of another cell', '"numbers.width"'),
  within: v.optional(
    v.union([v.string(), v.number()], wording('be a share or a quantity', 'Write for example "5 %" or "20 ms".')),
    '5 %',
  ),
});

const boardCell = cell('board', {
  ...everyCell,
  board,
  knobs: v.optional(
    v.array(
      textOf(
        'the name of a part, of one of its fields, or of a number of a cell',
        '"R1", "BT1.voltage" or "#look.until"',
      ),
      wording(
        'be a list of parts, fields, and numbers of cells',
        'Write for example ["R1", "BT1.voltage", "#look.until"].',
      ),
    ),
    [],
  ),
  standard: v.optional(choice(SYMBOL_STANDARDS), 'IEC 60617'),
});

const traceCell = cell('trace', {
  ...runCell,
  show: v.pipe(
    v.array(
      textOf('a net or the current of a part', '"out" or "current(R1)"'),
      wording('be a list of nets and currents', 'Write for example ["in", "out", "current(R1)"].'),
    ),
    v.minLength(1, wording('name at least one net or current', 'Write for example ["in", "out"].')),
    v.maxLength(MOST_LANES, (issue) => tooMany('lanes', MOST_LANES, issue.input.length)),
  ),
  hold_back: yesNo,
});

const fatesCell = cell('fates', {
  ...runCell,
  timer: v.optional(v.string(wording('be the name of a timer', 'Write for example "U1".'))),
});

const take = (most: number) =>
  v.pipe(
    v.record(
      namePattern('width'),
      textOf('a reading in double quotes', '"width(out)"'),
      wording('be an object of names and readings', 'Write for example { "width": "width(out)" }.'),
    ),
    v.check(
      (readings) => Object.keys(readings).length > 0,
      wording('hold at least one reading', 'Write for example { "width": "width(out)" }.'),
    ),
    v.check(
      (readings) => Object.keys(readings).length <= most,
      (issue) => tooMany('readings', most, Object.keys(issue.input).length),
    ),
  );

const readingCell = cell('reading', { ...runCell, take: take(MOST_READINGS), hold_back: yesNo });

const sweepCell = cell('sweep', {
  ...runCell,
  vary: varySchema,
  take: take(MOST_SERIES),
  against: v.optional(againstSchema),
  timer: v.optional(v.string(wording('be the name of a timer', 'Write for example "U1".'))),
});

const mapCell = cell('map', {
  ...runCell,
  x: varySchema,
  y: varySchema,
  take: take(1),
  levels: v.optional(
    v.pipe(
      v.array(v.unknown(), wording('be a list of values of the reading', 'Write for example [1.5, 2.5].')),
      v.maxLength(MOST_LEVELS, (issue) => tooMany('levels', MOST_LEVELS, issue.input.length)),
    ),
  ),
  timer: v.optional(v.string(wording('be the name of a timer', 'Write for example "U1".'))),
});

const swapsCell = cell('swaps', { ...runCell, ...swapsEntries, take: take(MOST_SERIES) });

const symptomsCell = cell('symptoms', { ...runCell, ...symptomsEntries, take: take(MOST_SERIES) });

const captureCell = cell('capture', { ...runCell, ...captureFields });

const claimCell = cell('claim', { ...everyCell, board, ...claimEntries });

const spreadCell = cell('spread', { ...runCell, take: take(MOST_SERIES), ...spreadFields });

const chooseCell = cell('choose', { ...runCell, ...chooseFields });

/** Checks one cell whose kind is one of {@link CELL_KINDS} and fills in defaults; its messages lack only the place. */
export const cellSchema = v.pipe(
  v.variant('kind', [
    noteCell,
    boardCell,
    traceCell,
    fatesCell,
    readingCell,
    formulaCell,
    sweepCell,
    mapCell,
    spreadCell,
    chooseCell,
    claimCell,
    swapsCell,
    symptomsCell,
    captureCell,
    askCell,
  ]),
  v.transform((read): Cell => read as Cell),
);

function oneOf(options: readonly string[]): string {
  const quoted = options.map((option) => `"${option}"`);
  return listedText(quoted, 'or');
}

function tooMany(what: string, most: number, found: number): string {
  return `must hold at most ${most} ${what}; got ${found}. Put the rest in another cell.`;
}
