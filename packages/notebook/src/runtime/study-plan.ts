import { spokenName } from '@two-thirds/sim/quantity';
import { boardNames } from '../edit/board-names.ts';
import { boardParts } from '../edit/board-values.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { startingChoices } from '../edit/starting-choices.ts';
import { boardOf, type PageCell, textField } from './cells.ts';
import {
  edit,
  inside,
  itemText,
  listOf,
  oneMore,
  type PlanField,
  takeFields,
  windowFields,
  wordsOf,
} from './plan-field.ts';
import { mapFields, sweepFields } from './range-plan.ts';
import { chooseFields, claimFields, spreadFields } from './values-plan.ts';

/** What each kind of study does, beside how long it looks; kinds that are edited elsewhere are left out. */
const plans: Readonly<Record<string, (document: Json, cell: PageCell) => readonly PlanField[]>> = {
  sweep: sweepFields,
  map: mapFields,
  spread: spreadFields,
  choose: chooseFields,
  claim: claimFields,
  swaps: (document, cell) => [...placeFields(document, cell), ...takeFields(document, cell)],
  symptoms: takeFields,
  capture: captureFields,
};

/** The fields of a study that are edited in the sentence below it; none for kinds that are edited elsewhere. */
export function planFields(document: Json, cell: PageCell): readonly PlanField[] {
  const plan = plans[cell.kind];
  return plan === undefined ? [] : [...plan(document, cell), ...windowFields(cell)];
}

/** Names of everything that is edited at a study itself, as complaints name their places. */
export function studyFields(document: Json, cell: PageCell): readonly string[] {
  const names = planFields(document, cell).map(({ name }) => name);
  if (cell.kind === 'claim') return [...names, 'says'];
  if (cell.kind === 'capture') return [...names, 'data', 'columns'];
  if (cell.kind !== 'symptoms') return names;
  return [...names, ...keysOf(cell.data['take']).map((name) => inside('seen', name))];
}

function placeFields(document: Json, cell: PageCell): PlanField[] {
  const parts = isRecord(cell.data['parts']) ? cell.data['parts'] : {};
  const board = boardOf(cell) ?? '';
  const places = Object.keys(parts).map((name, index): PlanField => {
    const raw = parts[name];
    return {
      name: inside('parts', name),
      words: index === 0 ? `In it ${spokenName(name)} may be` : `${spokenName(name)} may be`,
      text: isList(raw) ? raw.map(itemText).join(', ') : itemText(raw),
      label: `what can be plugged in as ${spokenName(name)}, ${cell.id}`,
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
  const more = oneMore(cell, {
    field: 'parts',
    words: places.length === 0 ? 'In it' : 'and',
    what: 'place',
    label: 'place',
    offered,
    add: (name, given) => {
      if (Object.hasOwn(parts, name)) return undefined;
      const choices = given === '' ? startingChoices(document, board, name) : listOf(given);
      // A name that means nothing goes into the document all the same: the check says what would be right.
      return edit(cell, ['parts', name], choices.length === 0 ? [''] : choices, `add ${name}`);
    },
  });
  return [...places, more];
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
          typed === '' ? undefined : wordsOf(typed),
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

function keysOf(value: Json | undefined): string[] {
  return Object.keys(isRecord(value) ? value : {});
}
