import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { type Path, valueAt } from '../edit/path.ts';
import type { PageCell } from './cells.ts';

/** A field of a cell that is edited as text. */
export interface PlainField {
  /** As places are written, for example `vary.from`. */
  readonly name: string;
  readonly path: Path;
  /** What it is, in a few words. */
  readonly words: string;
  /** As it stands in the document; lists are divided by commas. */
  readonly text: string;
  readonly raw: Json | undefined;
}

const variedWords = {
  value: 'varies',
  from: 'from',
  to: 'to',
  steps: 'in steps',
  scale: 'on a scale',
  values: 'through the values',
  series: 'along the series',
};

/** The fields that no element of the page shows in its own way, by kind of cell; a field with inner ones stands for them. */
const fieldsOf: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  ask: { question: 'it asks', answer: 'the answer is', within: 'right within' },
  sweep: {
    vary: 'it',
    take: '',
    against: 'against the rule of thumb',
    from: 'looking from',
    until: 'until',
    timer: 'at the timer',
  },
  map: {
    x: 'across it',
    y: 'upwards it',
    take: '',
    levels: 'with lines at',
    from: 'looking from',
    until: 'until',
    timer: 'at the timer',
  },
};

/** The fields of a cell that are edited as text, because nothing on the page stands for them. */
export function plainFields(cell: PageCell): readonly PlainField[] {
  return Object.entries(fieldsOf[cell.kind] ?? {}).flatMap(([field, words]) => {
    const raw = cell.data[field];
    if (field === 'take') return innerFields(cell, field, isRecord(raw) ? raw : {}, {});
    // Rules by name of a reading are edited one by one, a rule alone as text.
    if (field === 'against' && isRecord(raw)) return ruleFields(cell, field, raw);
    if (field === 'vary' || field === 'x' || field === 'y') {
      return innerFields(cell, field, isRecord(raw) ? raw : {}, variedWords, words);
    }
    return [{ name: field, path: [field], words, text: text(raw), raw }];
  });
}

function ruleFields(cell: PageCell, field: string, record: JsonRecord): PlainField[] {
  return Object.keys(record).map((inner) => {
    const raw = valueAt(cell.data, [field, inner]);
    const words = `${inner} against the rule of thumb`;
    return { name: `${field}.${inner}`, path: [field, inner], words, text: text(raw), raw };
  });
}

function innerFields(
  cell: PageCell,
  field: string,
  record: JsonRecord,
  known: Readonly<Record<string, string>>,
  words = '',
): PlainField[] {
  return Object.keys({ ...known, ...record }).map((inner) => {
    const raw = valueAt(cell.data, [field, inner]);
    return {
      name: `${field}.${inner}`,
      path: [field, inner],
      words: `${words} ${known[inner] ?? `reads ${inner} as`}`.trim(),
      text: text(raw),
      raw,
    };
  });
}

function text(raw: Json | undefined): string {
  if (raw === undefined) return '';
  if (isList(raw)) return raw.map((each) => (typeof each === 'string' ? each : JSON.stringify(each))).join(', ');
  return typeof raw === 'string' ? raw : JSON.stringify(raw);
}

/** What typed text means as the value of a field: nothing where it is empty, a list where one is meant. */
export function plainValue({ name, raw }: PlainField, typed: string): Json | undefined {
  if (typed === '') return undefined;
  const isListField = isList(raw) || name === 'levels' || name.endsWith('.values');
  if (isListField) return typed.split(',').map((each) => single(each.trim()));
  return name.endsWith('.steps') ? single(typed) : typed;
}

/** A plain number stays one; whatever has a unit stays text. */
function single(typed: string): Json {
  return typed !== '' && Number.isFinite(Number(typed)) ? Number(typed) : typed;
}
