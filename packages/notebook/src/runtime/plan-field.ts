import { type OfferedName, readingParts } from '../edit/expression-names.ts';
import type { Edit } from '../edit/history.ts';
import { isRecord, type Json } from '../edit/json.ts';
import { newReading } from '../edit/rename.ts';
import { boardOf, type PageCell, written } from './cells.ts';

/** What a study does, as one field of a sentence that is edited in place. */
export interface PlanField {
  /** As complaints name its place: `parts.R1`. */
  readonly name: string;
  /** The words before it. */
  readonly words: string;
  readonly text: string;
  /** What it is, for screen readers. */
  readonly label: string;
  /** What stands in it while it is empty. */
  readonly hint: string;
  /** Names that may be written into it. */
  readonly names: readonly string[];
  /** Whether it only adds something, and says nothing of what the study does. */
  readonly adds?: true;
  /** What an expression may be made of, where the field holds one. */
  readonly expression?: readonly OfferedName[];
  /** The edit that typed text means; undefined for none. */
  readonly change: (typed: string) => Edit | undefined;
}

/** A place inside a field, as complaints write it. */
export function inside(field: string, name: string): string {
  return /^[A-Za-z_]\w*$/.test(name) ? `${field}.${name}` : `${field}[${JSON.stringify(name)}]`;
}

/** An edit of a cell. @param steps from the cell to the place. */
export function edit(cell: PageCell, steps: readonly string[], value: Json | undefined, label: string): Edit {
  return { path: ['page', cell.index, ...steps], value, label };
}

/** The members of a field that holds an object; none of anything else. */
export function entriesOf(value: Json | undefined): [string, Json][] {
  return Object.entries(isRecord(value) ? value : {}).flatMap(([name, each]) =>
    each === undefined ? [] : [[name, each]],
  );
}

/** The readings a study takes, each of them edited or taken out, and one more. */
export function takeFields(document: Json, cell: PageCell): PlanField[] {
  const take = isRecord(cell.data['take']) ? cell.data['take'] : {};
  const expression = readingParts(document, boardOf(cell));
  const taken = Object.keys(take);
  const fields = taken.map(
    (name, index): PlanField => ({
      name: inside('take', name),
      words: `${index === 0 ? 'It reads ' : ''}${name} as`,
      text: written(take[name]),
      label: `what ${name} reads, ${cell.id}`,
      hint: '',
      names: [],
      expression,
      change: (typed) =>
        typed === '' ? withoutReading(cell, name) : edit(cell, ['take', name], typed, `${name} to ${typed}`),
    }),
  );
  const more = oneMoreReading(cell, {
    field: 'take',
    words: taken.length === 0 ? 'It reads' : 'and',
    what: 'reading',
    expression,
    taken,
    add: (name, typed) => edit(cell, ['take', name], typed, `add ${typed}`),
  });
  return [...fields, more];
}

/** A field that adds a reading, under a name of its own. */
export function oneMoreReading(
  cell: PageCell,
  {
    field,
    words,
    what,
    expression,
    taken,
    add,
  }: {
    readonly field: string;
    readonly words: string;
    /** What is added, for screen readers. */
    readonly what: string;
    readonly expression: readonly OfferedName[];
    /** Names that are taken. */
    readonly taken: readonly string[];
    readonly add: (name: string, typed: string) => Edit;
  },
): PlanField {
  return {
    name: field,
    words,
    text: '',
    label: `one more ${what}, ${cell.id}`,
    hint: 'one more reading',
    adds: true,
    names: [],
    expression,
    change: (typed) => (typed === '' ? undefined : add(newReading(taken, typed), typed)),
  };
}

/** A field that adds something by its name, or by its name and what it may be: `R1: E24`. */
export function oneMore(
  cell: PageCell,
  {
    field,
    words,
    what = 'value',
    label = `${what} of ${field}`,
    offered,
    add,
  }: {
    readonly field: string;
    readonly words: string;
    /** What is added, and the same for screen readers. */
    readonly what?: string;
    readonly label?: string;
    readonly offered: readonly string[];
    readonly add: (name: string, given: string) => Edit | undefined;
  },
): PlanField {
  return {
    name: field,
    words,
    text: '',
    label: `one more ${label}, ${cell.id}`,
    hint: `one more ${what}`,
    adds: true,
    names: offered,
    change: (typed) => {
      const [name = '', given = ''] = typed.split(/[:=]/).map((each) => each.trim());
      return name === '' ? undefined : add(name, given);
    },
  };
}

/** Fields that hold something about every reading, by its name. */
const ABOUT_READINGS = ['take', 'seen', 'limits', 'against'];

/** Takes a reading out, and with it whatever else was said of it. */
function withoutReading(cell: PageCell, name: string): Edit {
  const data = Object.entries(cell.data).flatMap(([field, value]): [string, Json | undefined][] => {
    if (!ABOUT_READINGS.includes(field) || !isRecord(value)) return [[field, value]];
    const rest = Object.fromEntries(Object.entries(value).filter(([each]) => each !== name));
    // Rules must be at least one.
    return Object.keys(rest).length === 0 && field === 'against' ? [] : [[field, rest]];
  });
  return { path: ['page', cell.index], value: Object.fromEntries(data), label: `take out ${name}` };
}

/** How long the runs of a study last. */
export function windowFields(cell: PageCell): PlanField[] {
  return [
    textPlan(cell, 'from', 'from', 'start of the window', '0 s'),
    textPlan(cell, 'until', 'until', 'end of the window', ''),
  ];
}

function textPlan(cell: PageCell, field: string, words: string, label: string, usual: string): PlanField {
  return {
    name: field,
    words,
    text: written(cell.data[field] ?? usual),
    label: `${label}, ${cell.id}`,
    hint: '',
    names: [],
    change: (typed) => edit(cell, [field], typed === '' ? undefined : typed, `${field} to ${typed}`),
  };
}

/** A field of one number or word, which may be left out. @param usual what then holds. */
export function singleField(
  cell: PageCell,
  field: string,
  { words, label, usual, names = [] }: { words: string; label: string; usual: string; names?: readonly string[] },
): PlanField {
  return {
    name: field,
    words,
    text: itemText(cell.data[field]),
    label: `${label}, ${cell.id}`,
    hint: usual,
    names,
    change: (typed) => edit(cell, [field], typed === '' ? undefined : item(typed), `${field} to ${typed || usual}`),
  };
}

/** A value as it is typed: text as it is, everything else as JSON. */
export function itemText(raw: Json | undefined): string {
  return typeof raw === 'string' ? raw : raw === undefined ? '' : JSON.stringify(raw);
}

/** What a typed value means: plain numbers, yes and no stay what they are. */
export function item(typed: string): Json {
  if (typed === 'true' || typed === 'false') return typed === 'true';
  return typed !== '' && Number.isFinite(Number(typed)) ? Number(typed) : typed;
}

/** Values divided by commas. */
export function listOf(typed: string): Json[] {
  return wordsOf(typed).map(item);
}

/** Words divided by commas. */
export function wordsOf(typed: string): string[] {
  return typed
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
}
