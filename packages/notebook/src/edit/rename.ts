import { findQuotes, splitTarget } from '@two-thirds/sim/document';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { pageOf } from './page.ts';
import { valueAt, withValue } from './path.ts';

/**
 * Gives a cell another name. What refers to it follows: links in notes, names such as `numbers.width` in the expressions
 * of other cells, and knobs such as `#look.until`.
 */
export function renameCell(document: Json, from: string, to: string): Edit {
  const page = mapCells(document, (cell) => {
    const own = cell['id'] === from ? { ...cell, id: to } : cell;
    const turning = withKnobsOf(own, from, to);
    return referring(turning, (target) => (target.cell === from ? { ...target, cell: to } : target));
  });
  return { path: ['page'], value: page, label: `name ${from} ${to}` };
}

function withKnobsOf(cell: JsonRecord, from: string, to: string): JsonRecord {
  const knobs = cell['knobs'];
  if (!isList(knobs)) return cell;
  const isOf = (knob: Json): knob is string => typeof knob === 'string' && knob.startsWith(`#${from}.`);
  if (!knobs.some(isOf)) return cell;
  return { ...cell, knobs: knobs.map((knob) => (isOf(knob) ? `#${to}${knob.slice(from.length + 1)}` : knob)) };
}

/** Gives a reading of a cell another name, in its place; numbers that are quoted by the old name follow. */
export function renameReading(document: Json, cell: string, from: string, to: string): Edit {
  const page = mapCells(document, (each) => {
    const take = each['take'];
    const own =
      each['id'] === cell && isRecord(take)
        ? {
            ...each,
            take: Object.fromEntries(Object.entries(take).map(([name, ask]) => [name === from ? to : name, ask])),
          }
        : each;
    return referring(own, (target) => (target.cell === cell && target.name === from ? { cell, name: to } : target));
  });
  return { path: ['page'], value: page, label: `name ${from} ${to}` };
}

/** Gives a board another name, in its cells and links as well. */
export function renameBoard(document: Json, from: string, to: string): Edit {
  const boards = valueAt(document, ['boards']);
  const renamed = Object.entries(isRecord(boards) ? boards : {}).map(([name, board]) => [
    name === from ? to : name,
    board,
  ]);
  const page = mapCells(document, (cell) => (cell['board'] === from ? { ...cell, board: to } : cell));
  let value = withValue(withValue(document, ['boards'], Object.fromEntries(renamed) as JsonRecord), ['page'], page);
  const links = valueAt(document, ['links']);
  if (isList(links))
    value = withValue(
      value,
      ['links'],
      links.map((link) => relinked(link, from, to)),
    );
  return { path: [], value, label: `name ${from} ${to}` };
}

/** A name for one more reading, after what it reads: `width`, or `width2` where that is taken. */
export function newReading(taken: readonly string[], text: string): string {
  const stem = /^[A-Za-z]\w*/.exec(text)?.[0] ?? 'reading';
  let name = stem;
  for (let number = 2; taken.includes(name); number += 1) name = `${stem}${number}`;
  return name;
}

interface Target {
  readonly cell: string;
  readonly name?: string;
}

type Follow = (target: Target) => Target;

/** Fields of cells that hold an expression over numbers of other cells. */
const EXPRESSIONS = ['answer', 'against', 'says'];

/** A cell with all it says of other cells brought up to date; the very same cell where nothing changes. */
function referring(cell: JsonRecord, follow: Follow): JsonRecord {
  const fields = cell['kind'] === 'note' ? [] : cell['kind'] === 'formula' ? ['text', ...EXPRESSIONS] : EXPRESSIONS;
  const changed: [string, Json][] = fields.flatMap((field) =>
    changedText(cell, field, (text) => expression(text, follow)),
  );
  if (cell['kind'] === 'note') changed.push(...changedText(cell, 'text', (text) => quoting(text, follow)));
  return changed.length === 0 ? cell : { ...cell, ...Object.fromEntries(changed) };
}

function changedText(cell: JsonRecord, field: string, change: (text: string) => string): [string, Json][] {
  const text = cell[field];
  if (typeof text !== 'string') return [];
  const after = change(text);
  return after === text ? [] : [[field, after]];
}

function quoting(text: string, follow: Follow): string {
  let changed = '';
  let reached = 0;
  for (const { words, target, start, end } of findQuotes(text)) {
    changed += `${text.slice(reached, start)}[${words}](#${written(follow(splitTarget(target)))})`;
    reached = end;
  }
  return changed + text.slice(reached);
}

function expression(text: string, follow: Follow): string {
  return text.replace(/(?<![\w.])([A-Za-z]\w*)\.([A-Za-z]\w*)/g, (_, cell: string, name: string) =>
    written(follow({ cell, name })),
  );
}

function written({ cell, name }: Target): string {
  return name === undefined ? cell : `${cell}.${name}`;
}

function relinked(link: Json, from: string, to: string): Json {
  if (!isRecord(link)) return link;
  const end = (value: Json | undefined): Json | undefined =>
    typeof value === 'string' && value.startsWith(`${from}.`) ? to + value.slice(from.length) : value;
  return { ...link, a: end(link['a']), b: end(link['b']) };
}

/** The page with every cell changed; what is no object is no cell and stays as it is. */
function mapCells(document: Json, change: (cell: JsonRecord) => JsonRecord): readonly Json[] {
  return pageOf(document).map((cell) => (isRecord(cell) ? change(cell) : cell));
}

/** Why a name cannot be given, or `undefined` where it can. @param taken the names that others have. */
export function nameComplaint(name: string, taken: readonly string[]): string | undefined {
  if (!/^[A-Za-z]\w*$/.test(name) || ['__proto__', 'constructor', 'prototype'].includes(name)) {
    return `A name must be a letter followed by letters, digits or _; got “${name}”. Write for example look2.`;
  }
  return taken.includes(name) ? `A name must be used only once; “${name}” is taken. Choose another.` : undefined;
}
