import type { Issue } from '../core/errors.ts';
import { isObject, ownEntry } from '../field/record.ts';
import {
  type CheckedFormula,
  checkFormula,
  type Dimension,
  type FormulaFault,
  type FormulaParser,
  treeNames,
} from '../formula/index.ts';
import type { BoardTable } from './board-table.ts';
import { cellNeeds, inOrder } from './dependencies.ts';
import { type NamedNumber, namedDimension, resolveNumber, type ResolvedName } from './formula-names.ts';
import { cellKey, cellLabel } from './read-cell.ts';

/** A formula cell after checking: its formula and what its names mean, or what is wrong with its text. */
export type FormulaEntry =
  | { readonly ok: true; readonly formula: CheckedFormula; readonly names: ReadonlyMap<string, NamedNumber> }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** The formulas of a page, each checked once, when it is first asked for. */
export class FormulaTable {
  readonly #cells: ReadonlyMap<string, unknown>;
  readonly #places: ReadonlyMap<string, number>;
  readonly #table: BoardTable;
  readonly #parse: FormulaParser | undefined;
  readonly #entries = new Map<string, FormulaEntry>();

  /**
   * @param page cells as they stand in the file.
   * @param parse takes formulas apart; without it no formula can be checked, and none is found faulty.
   */
  constructor(page: readonly unknown[], table: BoardTable, parse: FormulaParser | undefined) {
    this.#cells = new Map(page.map((data, index) => [cellKey(data, index), data]));
    this.#places = new Map(page.map((data, index) => [cellKey(data, index), index]));
    this.#table = table;
    this.#parse = parse;
  }

  /** What takes formulas apart, if there is something. */
  get parser(): FormulaParser | undefined {
    return this.#parse;
  }

  /** What a name of the document means. */
  resolve(word: string): ResolvedName {
    return resolveNumber(word, { cells: this.#cells, table: this.#table });
  }

  /** What a named number measures; `undefined` where a fault hides it. */
  dimensionOf(named: NamedNumber): Dimension | undefined {
    return namedDimension(named, (id) => {
      const entry = this.#entries.get(id) ?? this.entry(id);
      return entry?.ok === true ? entry.formula.dimension : undefined;
    });
  }

  /** The formula of a cell; `undefined` if there is no such cell, or nothing to check formulas with. */
  entry(id: string): FormulaEntry | undefined {
    for (const each of this.order(id, (other) => this.#entries.has(other))) {
      const text = this.#textOf(each);
      if (text !== undefined && this.#parse !== undefined)
        this.#entries.set(each, this.#check(each, text, this.#parse));
    }
    return this.#entries.get(id);
  }

  /** The formula cells that a formula cell needs, itself included, each after those it needs; without those that are done. */
  order(id: string, isDone: (id: string) => boolean): string[] {
    const needs = (each: string): string[] =>
      cellNeeds(this.#cells.get(each)).filter((need) => this.#textOf(need) !== undefined && !isDone(need));
    return isDone(id) ? [] : inOrder(id, needs);
  }

  #textOf(id: string): string | undefined {
    const data = this.#cells.get(id);
    const text = isObject(data) && ownEntry(data, 'kind') === 'formula' ? ownEntry(data, 'text') : undefined;
    return typeof text === 'string' ? text : undefined;
  }

  #check(id: string, text: string, parse: FormulaParser): FormulaEntry {
    const parsed = parse(text, (word) => this.#textOf(word) !== undefined);
    if (!parsed.ok) return this.#refused(id, 'formula', messageOf(parsed.fault));
    const names = new Map<string, NamedNumber>();
    // Names come before units, so that a wrong name is not taken for a wrong unit.
    const issues = treeNames(parsed.tree).flatMap((word) => {
      const found = this.resolve(word);
      if (found.ok) names.set(word, found.named);
      return found.ok ? [] : this.#refused(id, 'unknown-name', found.message).issues;
    });
    if (issues.length > 0) return { ok: false, issues };
    const fitting = checkFormula(parsed.tree, (word) => {
      const named = names.get(word);
      return named === undefined ? undefined : this.dimensionOf(named);
    });
    if (!fitting.ok) return this.#refused(id, 'units', messageOf(fitting.fault));
    return { ok: true, formula: fitting.formula, names };
  }

  #refused(id: string, code: string, message: string): { readonly ok: false; readonly issues: readonly Issue[] } {
    const index = this.#places.get(id) ?? 0;
    const where = `page[${index}].text`;
    const label = cellLabel(this.#cells.get(id), index);
    return {
      ok: false,
      issues: [{ code, severity: 'fault', where, field: 'text', message: `${label}: text ${message}` }],
    };
  }
}

function messageOf({ rule, got, advice }: FormulaFault): string {
  return `must ${rule}; got ${got}. ${advice}`;
}
