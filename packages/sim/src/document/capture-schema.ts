import * as v from 'valibot';
import { fieldsWording, wording } from './schema-wording.ts';

/** Most values that one capture estimates together. */
const MOST_ADJUSTED = 8;
/** Most nets of one capture. */
const MOST_NETS = 16;

const columnText = wording(
  'be a title, a position from 1, or { "column": ..., "unit": ... }',
  'Write for example "CH1", 2 or { "column": 2, "unit": "mV" }.',
);
const position = v.pipe(
  v.number(columnText),
  v.integer(columnText),
  v.minValue(1, columnText),
  v.maxValue(1000, columnText),
);
const title = v.pipe(v.string(columnText), v.minLength(1, columnText), v.maxLength(200, columnText));
const namedColumn = v.strictObject(
  {
    column: v.union([title, position], columnText),
    unit: v.optional(v.string(wording('be a unit', 'Write for example "ms" or "V".'))),
  },
  fieldsWording('a column', ['column', 'unit']),
);
const columnSchema = v.lazy((input) =>
  typeof input === 'object' && input !== null ? namedColumn : v.union([title, position], columnText),
);

/** Fields of a capture cell beside those of every run; names are read when the board is known. */
export const captureFields = {
  data: v.string(
    wording(
      'be the name of a file, or the rows themselves',
      'Write for example "platform-lamp.csv" or "t_s,out_V\\n...".',
    ),
  ),
  columns: v.optional(
    v.pipe(
      v.record(
        v.string(),
        columnSchema,
        wording('be an object of nets and columns', 'Write for example { "time": "t", "out": "CH1" }.'),
      ),
      v.check(
        (columns) => Object.keys(columns).length <= MOST_NETS + 1,
        wording(`name at most ${MOST_NETS} nets`, 'Put the rest in another cell.'),
      ),
    ),
    {},
  ),
  align: v.optional(
    v.string(wording('be the first edge of a net, or "none"', 'Write for example "first(out)" or "first(out, fall)".')),
  ),
  adjust: v.optional(
    v.pipe(
      v.array(v.string(), wording('be a list of values', 'Write for example ["C1", "C1.leakage"].')),
      v.maxLength(MOST_ADJUSTED, wording(`hold at most ${MOST_ADJUSTED} values`, 'Put the rest in another cell.')),
    ),
    [],
  ),
};
