import { boardNames } from '../edit/board-names.ts';
import { claimNames } from '../edit/expression-names.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { valueNames } from '../edit/value-names.ts';
import { boardOf, type PageCell } from './cells.ts';
import { edit, entriesOf, inside, itemText, listOf, type PlanField, singleField, takeFields } from './plan-field.ts';
import { RANGE_WORDS, rangeOf, rangeText } from './range-text.ts';

/** What a sweep does: the value, its range, what is read, the rules of thumb it is held against. */
export function sweepFields(document: Json, cell: PageCell): PlanField[] {
  return [
    ...axisFields(document, cell, 'vary', 'It takes', 'varied'),
    ...takeFields(document, cell),
    ...ruleFields(document, cell),
    timerField(document, cell),
  ];
}

/** What a map does: its two values and their ranges, the one reading, its lines. */
export function mapFields(document: Json, cell: PageCell): PlanField[] {
  const readings = takeFields(document, cell);
  return [
    ...axisFields(document, cell, 'x', 'Across it goes', 'across'),
    ...axisFields(document, cell, 'y', 'upwards', 'upwards'),
    // A map is of one reading.
    ...(readings.length > 1 ? readings.slice(0, -1) : readings),
    {
      name: 'levels',
      words: 'with lines at',
      text: isList(cell.data['levels']) ? cell.data['levels'].map(itemText).join(', ') : itemText(cell.data['levels']),
      label: `lines at, ${cell.id}`,
      hint: 'round values',
      names: [],
      change: (typed) => edit(cell, ['levels'], typed === '' ? undefined : listOf(typed), `lines at ${typed}`),
    },
    timerField(document, cell),
  ];
}

function axisFields(document: Json, cell: PageCell, field: string, words: string, label: string): PlanField[] {
  const raw = cell.data[field];
  const { value, ...range } = isRecord(raw) ? raw : {};
  return [
    {
      name: `${field}.value`,
      words,
      text: itemText(value),
      label: `value ${label}, ${cell.id}`,
      hint: 'a value',
      names: valueNames(document, boardOf(cell) ?? ''),
      change: (typed) => edit(cell, [field, 'value'], typed === '' ? undefined : typed, `${field} to ${typed}`),
    },
    {
      name: field,
      words: 'through',
      text: rangeText(range),
      label: `range ${label}, ${cell.id}`,
      hint: 'a range',
      names: RANGE_WORDS,
      change: (typed) => {
        const read = rangeOf(typed);
        const stated = isRecord(read) ? read : { values: read };
        const after = { ...(value === undefined ? {} : { value }), ...(typed === '' ? {} : stated) };
        return edit(cell, [field], after, `${itemText(value)} through ${typed}`);
      },
    },
  ];
}

/** One rule alone as text; as soon as there are several readings, one for each of them. */
function ruleFields(document: Json, cell: PageCell): PlanField[] {
  const { against, take } = cell.data;
  const names = entriesOf(take).map(([name]) => name);
  const expression = claimNames(document, boardOf(cell));
  const rules = isRecord(against) ? against : {};
  const single = typeof against === 'string' || (against === undefined && names.length < 2);
  if (single) {
    const words = 'against the rule of thumb';
    return [{ ...singleField(cell, 'against', { words, label: 'rule of thumb', usual: 'none' }), expression }];
  }
  return [...new Set([...names, ...Object.keys(rules)])].map((name): PlanField => {
    const others = entriesOf(rules).filter(([each]) => each !== name);
    return {
      name: inside('against', name),
      words: `${name} against the rule of thumb`,
      text: itemText(rules[name]),
      label: `rule of thumb for ${name}, ${cell.id}`,
      hint: 'none',
      names: [],
      expression,
      change: (typed) => {
        const after = typed === '' ? others : [...others, [name, typed] as const];
        return edit(
          cell,
          ['against'],
          after.length === 0 ? undefined : Object.fromEntries(after),
          `rule for ${name} to ${typed}`,
        );
      },
    };
  });
}

function timerField(document: Json, cell: PageCell): PlanField {
  const { timers } = boardNames(document, boardOf(cell) ?? '');
  const about = { words: 'with the fates at', label: 'timer whose fates are told', usual: timers[0] ?? 'no timer' };
  return singleField(cell, 'timer', { ...about, names: timers });
}
