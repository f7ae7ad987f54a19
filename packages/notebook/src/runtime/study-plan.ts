import { boardNames } from '../edit/board-names.ts';
import { boardParts } from '../edit/board-values.ts';
import { type OfferedName, readingParts } from '../edit/expression-names.ts';
import type { Edit } from '../edit/history.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { newReading } from '../edit/rename.ts';
import { startingChoices } from '../edit/starting-choices.ts';
import { boardOf, type PageCell, textField, written } from './cells.ts';

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
  /** What an expression may be made of, where the field holds one. */
  readonly expression?: readonly OfferedName[];
  /** The edit that typed text means; undefined for none. */
  readonly change: (typed: string) => Edit | undefined;
}

/** Kinds of studies whose fields stand below their result. */
const planned = new Set(['swaps', 'symptoms', 'capture']);

/** The fields of a study that are edited in the sentence below it; none for kinds that are edited elsewhere. */
export function planFields(document: Json, cell: PageCell): readonly PlanField[] {
  if (!planned.has(cell.kind)) return [];
  const own =
    cell.kind === 'capture'
      ? captureFields(document, cell)
      : [...(cell.kind === 'swaps' ? placeFields(document, cell) : []), ...takeFields(document, cell)];
  return [
    ...own,
    windowField(cell, 'from', 'start of the window', '0 s'),
    windowField(cell, 'until', 'end of the window', ''),
  ];
}

/** Names of everything that is edited at a study itself, as complaints name their places. */
export function studyFields(document: Json, cell: PageCell): readonly string[] {
  const names = planFields(document, cell).map(({ name }) => name);
  if (cell.kind === 'claim') return ['says'];
  if (cell.kind === 'capture') return [...names, 'data', 'columns'];
  if (cell.kind !== 'symptoms') return names;
  return [...names, ...keysOf(cell.data['take']).map((name) => inside('seen', name))];
}

/** A place inside a field, as complaints write it. */
export function inside(field: string, name: string): string {
  return /^[A-Za-z_]\w*$/.test(name) ? `${field}.${name}` : `${field}[${JSON.stringify(name)}]`;
}

function placeFields(document: Json, cell: PageCell): PlanField[] {
  const parts = isRecord(cell.data['parts']) ? cell.data['parts'] : {};
  const board = boardOf(cell) ?? '';
  const places = Object.keys(parts).map((name, index): PlanField => {
    const raw = parts[name];
    return {
      name: inside('parts', name),
      words: index === 0 ? `In it ${name} may be` : `${name} may be`,
      text: isList(raw) ? raw.map(itemText).join(', ') : itemText(raw),
      label: `what can be plugged in as ${name}, ${cell.id}`,
      hint: '',
      names: [],
      change: (typed) =>
        edit(
          cell,
          ['parts', name],
          typed === '' ? undefined : listOf(typed),
          typed === '' ? `take out ${name}` : `${name} to ${typed}`,
        ),
    };
  });
  const offered = boardParts(document, board).flatMap(({ name }) =>
    typeof name === 'string' && !Object.hasOwn(parts, name) ? [name] : [],
  );
  const more: PlanField = {
    name: 'parts',
    words: places.length === 0 ? 'In it' : 'and',
    text: '',
    label: `one more place, ${cell.id}`,
    hint: 'one more place',
    names: offered,
    change: (typed) => {
      const [name = '', given = ''] = typed.split(/[:=]/).map((each) => each.trim());
      if (name === '' || Object.hasOwn(parts, name)) return undefined;
      const choices = given === '' ? startingChoices(document, board, name) : listOf(given);
      // A name that means nothing goes into the document all the same: the check says what would be right.
      return edit(cell, ['parts', name], choices.length === 0 ? [''] : choices, `add ${name}`);
    },
  };
  return [...places, more];
}

function takeFields(document: Json, cell: PageCell): PlanField[] {
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
  const more: PlanField = {
    name: 'take',
    words: taken.length === 0 ? 'It reads' : 'and',
    text: '',
    label: `one more reading, ${cell.id}`,
    hint: 'one more reading',
    names: [],
    expression,
    change: (typed) =>
      typed === '' ? undefined : edit(cell, ['take', newReading(taken, typed)], typed, `add ${typed}`),
  };
  return [...fields, more];
}

/** Takes a reading out, and with it what was seen of it. */
function withoutReading(cell: PageCell, name: string): Edit {
  const rest = (field: Json | undefined): Json =>
    Object.fromEntries(Object.entries(isRecord(field) ? field : {}).filter(([each]) => each !== name));
  const { seen } = cell.data;
  const data = { ...cell.data, take: rest(cell.data['take']), ...(seen === undefined ? {} : { seen: rest(seen) }) };
  return { path: ['page', cell.index], value: data, label: `take out ${name}` };
}

function captureFields(document: Json, cell: PageCell): PlanField[] {
  const board = boardOf(cell) ?? '';
  const { nets, parts } = boardNames(document, board);
  const adjust = cell.data['adjust'];
  return [
    {
      name: 'adjust',
      words: 'It estimates',
      text: isList(adjust) ? adjust.map(itemText).join(', ') : '',
      label: `values to be estimated, ${cell.id}`,
      hint: 'no value',
      names: parts,
      change: (typed) =>
        edit(
          cell,
          ['adjust'],
          typed === '' ? undefined : words(typed),
          typed === '' ? 'estimate nothing' : `estimate ${typed}`,
        ),
    },
    {
      name: 'align',
      words: 'and is laid over the run by',
      text: textField(cell.data, 'align') ?? '',
      label: `edge that both are laid over each other by, ${cell.id}`,
      hint: 'the first edge',
      names: ['first', 'none', ...nets],
      change: (typed) =>
        edit(cell, ['align'], typed === '' ? undefined : typed, `align by ${typed === '' ? 'the first edge' : typed}`),
    },
  ];
}

function windowField(cell: PageCell, field: string, label: string, usual: string): PlanField {
  return {
    name: field,
    words: field,
    text: written(cell.data[field] ?? usual),
    label: `${label}, ${cell.id}`,
    hint: '',
    names: [],
    change: (typed) => edit(cell, [field], typed === '' ? undefined : typed, `${field} to ${typed}`),
  };
}

function edit(cell: PageCell, steps: readonly string[], value: Json | undefined, label: string): Edit {
  return { path: ['page', cell.index, ...steps], value, label };
}

function itemText(raw: Json | undefined): string {
  return typeof raw === 'string' ? raw : raw === undefined ? '' : JSON.stringify(raw);
}

/** Values divided by commas; plain numbers, yes and no stay what they are. */
function listOf(typed: string): Json[] {
  return words(typed).map((each) =>
    each === 'true' || each === 'false' ? each === 'true' : Number.isFinite(Number(each)) ? Number(each) : each,
  );
}

function words(typed: string): string[] {
  return typed
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
}

function keysOf(value: Json | undefined): string[] {
  return Object.keys(isRecord(value) ? value : {});
}
