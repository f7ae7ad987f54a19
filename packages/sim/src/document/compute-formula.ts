import { compileFormula, unitOf, unitText } from '../formula/index.ts';
import type { Unit } from '../quantity/index.ts';
import type { NamedNumber } from './formula-names.ts';
import type { FormulaEntry, FormulaTable } from './formula-table.ts';
import type { FormulaCell } from './notebook-document.ts';
import type { CellResult, FormulaResult, NumberOfCell } from './results.ts';

/** Gives the result of another cell. */
export type ResultOf = (id: string) => CellResult | undefined;

/** Computes a formula cell whose text has been checked. A name without a value leaves the formula without one, and says why. */
export function computeFormula(
  cell: FormulaCell,
  entry: Extract<FormulaEntry, { ok: true }>,
  formulas: FormulaTable,
  resultOf: ResultOf,
): FormulaResult {
  const { formula, names } = entry;
  const uses = [...names].map(([name, named]) => ({ name, ...numberOf(name, named, formulas, resultOf) }));
  const given = { kind: 'formula' as const, ok: true as const, text: cell.text, uses };
  const unit = formula.dimension === undefined ? null : (unitOf(formula.dimension) ?? null);
  const measured = { unit, unitText: formula.dimension === undefined ? '' : unitText(formula.dimension) };
  const missing = uses.find(({ value }) => value === null);
  if (missing !== undefined) {
    const why = missing.reason === undefined ? '' : `: ${missing.reason}`;
    return { ...given, value: null, ...measured, reason: `${missing.name} has none${why}` };
  }
  const values = new Map(uses.map(({ name, value }) => [name, value ?? NaN]));
  const { value, reason } = compileFormula(formula)(values);
  return Number.isNaN(value)
    ? { ...given, value: null, ...measured, ...(reason === undefined ? {} : { reason }) }
    : { ...given, value, ...measured };
}

/** The value of a named number, or why it has none. */
export function numberOf(name: string, named: NamedNumber, formulas: FormulaTable, resultOf: ResultOf): NumberOfCell {
  const dimension = formulas.dimensionOf(named);
  const unit: Unit | null =
    named.kind === 'formula' ? ((dimension && unitOf(dimension)) ?? null) : (named.unit ?? null);
  const measured = { unit, unitText: dimension === undefined ? '' : unitText(dimension) };
  if (named.kind === 'part') {
    if (named.value === undefined) return { value: null, ...measured, reason: 'its board has a fault' };
    return Number.isFinite(named.value)
      ? { value: named.value, ...measured }
      : { value: null, ...measured, reason: `${name} stands for none` };
  }
  const { value, reason } = valueOfCell(named, resultOf(named.cell));
  return value === null && reason !== undefined ? { value, ...measured, reason } : { value, ...measured };
}

function valueOfCell(
  named: Exclude<NamedNumber, { kind: 'part' }>,
  result: CellResult | undefined,
): { readonly value: number | null; readonly reason?: string | undefined } {
  const computed = result?.ok === false ? result.partial : result;
  if (computed?.ok !== true) return { value: null, reason: `${named.cell} could not be computed` };
  switch (named.kind) {
    case 'reading': {
      if (computed.kind !== 'reading') break;
      const value = computed.values[named.name];
      return typeof value === 'number' ? { value } : { value: null, reason: computed.reasons[named.name] };
    }
    case 'fates': {
      if (computed.kind !== 'fates') break;
      return { value: computed.counts[named.name as keyof typeof computed.counts] };
    }
    case 'textbook': {
      if (computed.kind !== 'board') break;
      const row = computed.textbook.find(({ name }) => name === named.name);
      return { value: row?.value ?? null, reason: 'the rule of thumb gives none for these values' };
    }
    case 'formula': {
      if (computed.kind !== 'formula') break;
      return { value: computed.value, reason: computed.reason };
    }
  }
  return { value: null, reason: `${named.cell} gives no such number` };
}
