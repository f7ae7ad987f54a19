import { spokenName } from '@two-thirds/sim/quantity';
import { boardParts } from '../edit/board-values.ts';
import { readingParts } from '../edit/expression-names.ts';
import { isList, isRecord, type Json } from '../edit/json.ts';
import { startingRange, usualTolerance } from '../edit/starting-ranges.ts';
import { choosableNames, valueNames } from '../edit/value-names.ts';
import { boardOf, type PageCell } from './cells.ts';
import {
  edit,
  entriesOf,
  inside,
  item,
  itemText,
  oneMore,
  oneMoreReading,
  type PlanField,
  singleField,
  takeFields,
  wordsOf,
} from './plan-field.ts';
import { RANGE_WORDS, rangeOf, rangeText } from './range-text.ts';

/** What a spread does: the parts and how far each may be off, what is read, inside which limits, how often. */
export function spreadFields(document: Json, cell: PageCell): PlanField[] {
  const { parts, take, limits } = cell.data;
  const listed = isList(parts);
  const ranges = listed ? parts.map((name): [string, Json] => [itemText(name), 'own']) : entriesOf(parts);
  const board = boardOf(cell) ?? '';
  const silent = (name: string): boolean => {
    const part = boardParts(document, board).find((each) => each['name'] === name);
    return part !== undefined && usualTolerance(part) !== undefined && part['tolerance'] === undefined;
  };
  const fields = ranges.map(
    ([name, range], index): PlanField => ({
      name: listed ? `parts[${index}]` : inside('parts', name),
      words: `${index === 0 ? 'In it ' : ''}${spokenName(name)}${silent(name) ? ', which states no tolerance,' : ''} lies within`,
      text: isList(range) && range.length === 2 ? range.map(itemText).join(' to ') : rangeText(range),
      label: `how far ${spokenName(name)} may be off, ${cell.id}`,
      hint: '',
      names: ['own'],
      change: (typed) => {
        const after = ranges.flatMap(([each, now]): [string, Json][] =>
          each !== name ? [[each, now]] : typed === '' ? [] : [[each, between(typed)]],
        );
        const value = after.length === 0 ? undefined : Object.fromEntries(after);
        return edit(
          cell,
          ['parts'],
          value,
          typed === '' ? `take out ${spokenName(name)}` : `${spokenName(name)} within ${typed}`,
        );
      },
    }),
  );
  const more = oneMore(cell, {
    field: 'parts',
    words: ranges.length === 0 ? 'Every part that states a tolerance lies within it; instead only' : 'and',
    offered: valueNames(document, board).filter((name) => !ranges.some(([each]) => each === name)),
    add: (name, given) => {
      const part = boardParts(document, board).find((each) => each['name'] === name);
      const usual = part === undefined || !silent(name) ? 'own' : (usualTolerance(part) ?? 'own');
      const after = [...ranges, [name, given === '' ? usual : between(given)] as const];
      return edit(cell, ['parts'], Object.fromEntries(after), `add ${spokenName(name)}`);
    },
  });
  const inLimits = entriesOf(take).map(
    ([name]): PlanField => ({
      name: inside('limits', name),
      words: `${name} is to lie inside`,
      text: limitsText(isRecord(limits) ? limits[name] : undefined),
      label: `limits of ${name}, ${cell.id}`,
      hint: 'no limits',
      names: ['at least', 'at most', 'to'],
      change: (typed) =>
        edit(cell, ['limits', name], typed === '' ? undefined : limitsOf(typed), `${name} inside ${typed}`),
    }),
  );
  return [
    ...fields,
    more,
    ...takeFields(document, cell),
    ...inLimits,
    singleField(cell, 'samples', { words: 'samples', label: 'how many samples', usual: '10000' }),
    singleField(cell, 'law', {
      words: 'law',
      label: 'law of the samples',
      usual: 'uniform',
      names: ['uniform', 'normal'],
    }),
    singleField(cell, 'seed', { words: 'seed', label: 'seed', usual: '1' }),
  ];
}

/** What a choice does: the readings that are wanted, the values that may be chosen and from what. */
export function chooseFields(document: Json, cell: PageCell): PlanField[] {
  const { want, adjust, stock } = cell.data;
  const expression = readingParts(document, boardOf(cell));
  const wishes = entriesOf(want);
  const fields = wishes.flatMap(([name, wish], index): PlanField[] => {
    const place = inside('want', name);
    const field = (step: string, words: string, hint: string): PlanField => ({
      name: `${place}.${step}`,
      words,
      text: itemText(isRecord(wish) ? wish[step] : undefined),
      label: `${step} of ${name}, ${cell.id}`,
      hint,
      names: [],
      change: (typed) =>
        edit(cell, ['want', name, step], typed === '' ? undefined : item(typed), `${name} ${step} to ${typed}`),
    });
    const reading = field('reading', `${index === 0 ? 'It wants ' : ''}${name}, read as`, '');
    return [
      {
        ...reading,
        expression,
        change: (typed) =>
          typed === '' ? edit(cell, ['want', name], undefined, `take out ${name}`) : reading.change(typed),
      },
      field('value', 'to be', 'a value'),
      field('within', 'within', '5 %'),
    ];
  });
  const one = oneMoreReading(cell, {
    field: 'want',
    words: wishes.length === 0 ? 'It wants' : 'and',
    what: 'wish',
    expression,
    taken: wishes.map(([name]) => name),
    add: (name, typed) => edit(cell, ['want', name], { reading: typed, value: '' }, `want ${typed}`),
  });
  const values = rangedFields(cell, 'adjust', entriesOf(adjust), {
    words: (name, index) => `${index === 0 ? 'It chooses ' : ''}${spokenName(name)} from`,
    label: (name) => `what ${spokenName(name)} may be, ${cell.id}`,
    names: ['E3', 'E6', 'E12', 'E24', 'stock', ...RANGE_WORDS],
    read: adjustOf,
  });
  const another = oneMore(cell, {
    field: 'adjust',
    words: values.length === 0 ? 'It chooses' : 'and',
    offered: valueNames(document, boardOf(cell) ?? ''),
    add: (name, given) => {
      const usual = startingRange(document, boardOf(cell) ?? '', name) ?? 'E12';
      return edit(cell, ['adjust', name], given === '' ? usual : adjustOf(given), `choose ${spokenName(name)}`);
    },
  });
  const stockField: PlanField = {
    name: 'stock',
    words: 'with a stock of',
    text: rangeText(stock),
    label: `values in stock, ${cell.id}`,
    hint: 'nothing listed',
    names: [],
    change: (typed) => edit(cell, ['stock'], typed === '' ? undefined : wordsOf(typed), `stock to ${typed}`),
  };
  return [...fields, one, ...values, another, stockField];
}

/** What a claim is tried over, and how often; what it says stands above. */
export function claimFields(document: Json, cell: PageCell): PlanField[] {
  const over = entriesOf(cell.data['over']);
  const fields = rangedFields(cell, 'over', over, {
    words: (name, index) => `${index === 0 ? 'It is tried over ' : ''}${spokenName(name)}`,
    label: (name) => `what ${spokenName(name)} is tried at, ${cell.id}`,
    names: ['bipolar', 'cmos', 'ideal', ...RANGE_WORDS],
    read: rangeOf,
  });
  const board = boardOf(cell) ?? '';
  const more = oneMore(cell, {
    field: 'over',
    words: over.length === 0 ? 'It is tried over' : 'and',
    offered: choosableNames(document, board).filter((name) => !over.some(([each]) => each === name)),
    add: (name, given) => {
      const usual = name.endsWith('.family') ? ['bipolar', 'cmos'] : (startingRange(document, board, name) ?? []);
      return edit(cell, ['over', name], given === '' ? usual : rangeOf(given), `add ${spokenName(name)}`);
    },
  });
  return [
    ...fields,
    more,
    singleField(cell, 'trials', { words: 'trials', label: 'how many trials', usual: '200' }),
    singleField(cell, 'seed', { words: 'seed', label: 'seed', usual: '1' }),
  ];
}

function rangedFields(
  cell: PageCell,
  field: string,
  entries: readonly (readonly [string, Json])[],
  told: {
    readonly words: (name: string, index: number) => string;
    readonly label: (name: string) => string;
    readonly names: readonly string[];
    readonly read: (typed: string) => Json;
  },
): PlanField[] {
  return entries.map(([name, raw], index) => ({
    name: inside(field, name),
    words: told.words(name, index),
    text: rangeText(raw),
    label: told.label(name),
    hint: '',
    names: told.names,
    change: (typed) =>
      edit(
        cell,
        [field, name],
        typed === '' ? undefined : told.read(typed),
        typed === '' ? `take out ${name}` : `${name} to ${typed}`,
      ),
  }));
}

/** A tolerance, `own`, or two ends. */
function between(typed: string): Json {
  const ends = /^(.+?)\s+to\s+(.+)$/.exec(typed);
  return ends === null ? typed : [item(ends[1] ?? ''), item(ends[2] ?? '')];
}

function limitsText(raw: Json | undefined): string {
  if (!isList(raw) || raw.length !== 2) return rangeText(raw);
  const [low = null, high = null] = raw;
  if (high === null) return `at least ${itemText(low)}`;
  return low === null ? `at most ${itemText(high)}` : `${itemText(low)} to ${itemText(high)}`;
}

function limitsOf(typed: string): Json {
  const one = /^at\s+(least|most)\s+(.+)$/.exec(typed);
  if (one !== null) return one[1] === 'least' ? [item(one[2] ?? ''), null] : [null, item(one[2] ?? '')];
  return between(typed);
}

/** A series, the word for the stock, a range along a series, or a list of values. */
function adjustOf(typed: string): Json {
  return /^(?:E\d+|stock)$/.test(typed) ? typed : rangeOf(typed);
}
