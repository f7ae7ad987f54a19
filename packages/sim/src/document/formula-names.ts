import { quotedText } from '../core/found-text.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { type Dimension, dimensionOf } from '../formula/index.ts';
import type { Unit } from '../quantity/index.ts';
import type { BoardTable, FaultyBoard, GoodBoard } from './board-table.ts';
import { findValue, partValue } from './knob.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import { innerUnit } from './part-rows.ts';
import { FORMULA_VALUE, quotableNames } from './quotable-names.ts';
import { splitTarget } from './quotes.ts';
import { isQuotedStudy } from './study-quotes.ts';
import { readingUnit } from './reading-unit.ts';

/** What a name in a formula means. */
export type NamedNumber =
  /** A number of another cell. `unit` is `undefined` where a fault there hides it. */
  | {
      readonly kind: 'reading' | 'fates' | 'textbook';
      readonly cell: string;
      readonly name: string;
      readonly unit: Unit | null | undefined;
    }
  | { readonly kind: 'formula'; readonly cell: string }
  /** A value of a board, in SI units; `undefined` where the board has a fault. */
  | { readonly kind: 'part'; readonly value: number | undefined; readonly unit: Unit | null | undefined };

/** What a name means, or why it means nothing, as "must ...; got .... ...". */
export type ResolvedName =
  | { readonly ok: true; readonly named: NamedNumber }
  | { readonly ok: false; readonly message: string };

/** The names that formulas and questions can use. */
export interface NameSpace {
  /** Cells of the page by id, as they stand in the file. */
  readonly cells: ReadonlyMap<string, unknown>;
  readonly table: BoardTable;
}

/**
 * Finds what a name such as `numbers.width`, `counter.R1`, `counter.G1.wave.period`, `board.interval` or `rule` means:
 * a number of a cell first, then a value of a board.
 */
export function resolveNumber(word: string, { cells, table }: NameSpace): ResolvedName {
  const { cell, name } = splitTarget(word);
  const data = cells.get(cell);
  const board = table.boards.get(cell);
  const number = data === undefined ? undefined : numberOfCell(word, data, table);
  if (number?.ok === true || (number !== undefined && board === undefined)) return number;
  if (board !== undefined) return valueOfBoard(cell, name, board);
  const known = [...cells.keys(), ...table.boards.keys()];
  const rule = 'use names of cells that give numbers, such as numbers.width, and of boards, such as counter.R1';
  return refuse(rule, word, nameAdvice(cell, known, 'Correct the name, or add the cell.'));
}

/** The dimension of a named number; `undefined` where it is not known. */
export function namedDimension(
  named: NamedNumber,
  ofFormula: (id: string) => Dimension | undefined,
): Dimension | undefined {
  if (named.kind === 'formula') return ofFormula(named.cell);
  return named.unit === undefined ? undefined : dimensionOf(named.unit);
}

function numberOfCell(word: string, data: unknown, table: BoardTable): ResolvedName {
  const { cell, name } = splitTarget(word);
  const fields = isObject(data) ? data : {};
  const kind = ownEntry(fields, 'kind');
  if (kind === 'formula' && (name === undefined || name === FORMULA_VALUE)) return found({ kind, cell });
  // What a study gives is quoted by notes: formulas would wait for hundreds of runs.
  const names = isQuotedStudy(kind) ? [] : quotableNames(data, table);
  if (names === 'unknown') return found({ kind: 'textbook', cell, name: name ?? '', unit: undefined });
  if (names.length === 0) {
    const rule = 'use only cells that give numbers: formula, reading, fates, and board with a ready board';
    return refuse(rule, word, `${cell} gives none.`);
  }
  if (name === undefined || !names.includes(name)) {
    const rule = `use a number that ${cell} gives (${listedNames(names)})`;
    const advice = name === undefined ? `Write for example ${cell}.${names[0] ?? 'width'}.` : 'Correct the name.';
    return refuse(rule, word, nameAdvice(name ?? '', names, advice));
  }
  if (kind === 'fates') return found({ kind, cell, name, unit: null });
  if (kind === 'reading') {
    const take = ownEntry(fields, 'take');
    const unit = readingUnit(isObject(take) ? ownEntry(take, name) : undefined);
    if (unit !== 'list') return found({ kind, cell, name, unit });
    return refuse('use single numbers, no lists', word, 'Take for example width(out) in place of widths(out).');
  }
  const board = table.boards.get(String(ownEntry(fields, 'board')));
  const ready = board?.ok === true ? board.ready : undefined;
  return found({ kind: 'textbook', cell, name, unit: ready?.textbook.find((rule) => rule.name === name)?.unit });
}

function valueOfBoard(name: string, value: string | undefined, board: GoodBoard | FaultyBoard): ResolvedName {
  // What a faulty board holds is said at the board.
  if (!board.ok) return found({ kind: 'part', value: undefined, unit: undefined });
  if (value === undefined) {
    const rule = `name a value of the board ${name}`;
    return refuse(rule, name, `Write for example ${name}.R1 or ${name}.BT1.voltage.`);
  }
  const path = findValue(value, board.parts, standardKinds);
  if (!path.ok) return path;
  const { part, steps } = path.path;
  const owner = board.circuit.parts.find((each) => each.name === board.prefix + part);
  const number = partValue(owner, steps);
  if (typeof number !== 'number') {
    return refuse('use values that are numbers', `${name}.${value}`, `${value} holds none.`);
  }
  const field = standardKinds.get(owner?.kind ?? '')?.fields.find((each) => each.name === steps[0]);
  const unit = steps.length === 1 ? field?.unit : innerUnit(steps);
  return found({ kind: 'part', value: number, unit: unit ?? null });
}

function found(named: NamedNumber): ResolvedName {
  return { ok: true, named };
}

function refuse(rule: string, word: string, advice: string): ResolvedName {
  return { ok: false, message: `must ${rule}; got ${quotedText(word)}. ${advice}` };
}
