import { type Issue } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { unitOf } from '../formula/index.ts';
import { readQuantity, readTolerance, type Unit } from '../quantity/index.ts';
import type { CellPlace } from './cell-names.ts';
import { numberOf, type ResultOf } from './compute-formula.ts';
import type { NamedNumber } from './formula-names.ts';
import type { FormulaTable } from './formula-table.ts';
import type { AskCell } from './notebook-document.ts';
import type { AskResult } from './results.ts';
import { fault } from './schema-wording.ts';

/** What is wrong with the names and the tolerance of a question; nothing if all is well. */
export function checkAsk(cell: AskCell, formulas: FormulaTable, at: CellPlace): Issue[] {
  const found = formulas.resolve(cell.answer);
  if (!found.ok) {
    const message = `${at.label}: answer ${found.message}`;
    return [{ code: 'unknown-name', severity: 'fault', where: `${at.place}.answer`, field: 'answer', message }];
  }
  const unit = unitOfAnswer(found.named, formulas);
  const within = unit === undefined ? undefined : readWithin(cell.within, unit);
  if (within?.ok !== false) return [];
  const got = foundText(cell.within);
  const { rule, advice } = within;
  return [fault('out-of-range', `${at.place}.within`, { label: at.label, field: 'within', rule, got, advice })];
}

/**
 * Computes the answer of a question that has been checked.
 *
 * @param explanation what the run says about the pattern behind the answer, where it says something.
 */
export function computeAsk(
  cell: AskCell,
  named: NamedNumber,
  formulas: FormulaTable,
  resultOf: ResultOf,
  explanation: string | undefined,
): AskResult {
  const found = numberOf(cell.answer, named, formulas, resultOf);
  const within = readWithin(cell.within, unitOfAnswer(named, formulas) ?? null);
  const share = within.ok && within.isShare;
  const allowance = found.value === null || !within.ok ? null : within.value * (share ? Math.abs(found.value) : 1);
  const counted = named.kind === 'fates' ? resultOf(named.cell) : undefined;
  const said = counted?.ok === true && counted.kind === 'fates' ? counted.explanation : explanation;
  return {
    kind: 'ask',
    ok: true,
    question: cell.question,
    answer: cell.answer,
    ...found,
    within: typeof cell.within === 'string' ? cell.within.trim() : String(cell.within),
    allowance,
    ...(said === undefined ? {} : { explanation: said }),
  };
}

/** The unit an answer is given in: null for plain numbers and units without a name, `undefined` where it is not known. */
function unitOfAnswer(named: NamedNumber, formulas: FormulaTable): Unit | null | undefined {
  if (named.kind !== 'formula') return named.unit;
  const dimension = formulas.dimensionOf(named);
  return dimension === undefined ? undefined : (unitOf(dimension) ?? null);
}

type Within =
  | { readonly ok: true; readonly value: number; readonly isShare: boolean }
  | { readonly ok: false; readonly rule: string; readonly advice: string };

/** Reads a tolerance: per cent are a share of the answer, everything else is in the answer's unit. */
export function readWithin(input: string | number, unit: Unit | null): Within {
  if (typeof input === 'string' && input.trim().endsWith('%')) {
    const read = readTolerance(input);
    if (read.ok) return { ok: true, value: read.value, isShare: true };
    return { ok: false, rule: 'be at least 0\u202f% and below 100\u202f%', advice: 'Write for example "5 %".' };
  }
  const read = readQuantity(input, unit ?? 'share');
  if (read.ok && read.value >= 0) return { ok: true, value: read.value, isShare: false };
  const rule =
    unit === null
      ? 'be a share such as "5 %", or a number of at least 0'
      : `be a share such as "5 %", or at least 0 in ${unit}`;
  return { ok: false, rule, advice: 'Write how far off an answer may be.' };
}
