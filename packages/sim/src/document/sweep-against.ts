import type { Issue } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import { dimensionOf, dimensionWords, type FormulaParser, sameDimension } from '../formula/index.ts';
import type { SweepRule } from '../study/sweep-rules.ts';
import type { Against } from './against-schema.ts';
import { readBoardFormula } from './board-formula.ts';
import type { BoardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import { placeInside } from './place.ts';
import { readingUnit } from './reading-unit.ts';
import { fault } from './schema-wording.ts';

/**
 * Reads the rules of thumb of a sweep for its board, or says what is wrong with them. A rule without the name of a reading
 * goes with the one reading that has its unit.
 *
 * @param over the value that the sweep goes through; without it nothing but the text is looked at.
 */
export function readAgainst(
  { against, take }: { readonly against?: Against; readonly take: Readonly<Record<string, string>> },
  board: GoodBoard,
  over: BoardValue | undefined,
  at: CellPlace,
  parse: FormulaParser,
): { readonly rules: readonly SweepRule[]; readonly issues: readonly Issue[] } {
  const names = Object.keys(take);
  const rules: SweepRule[] = [];
  const issues: Issue[] = [];
  const written = typeof against === 'string' ? [[undefined, against] as const] : Object.entries(against ?? {});
  for (const [name, text] of written) {
    const field = name === undefined ? 'against' : placeInside('against', name);
    const where = `${at.place}.${field}`;
    const refuse = (code: string, rule: string, got: string, advice: string): void => {
      issues.push(fault(code, where, { label: at.label, field, rule, got, advice }));
    };
    const read = readBoardFormula(text, board, parse);
    if (!read.ok) {
      const message = `${at.label}: ${field} ${read.message}`;
      issues.push({ code: read.code, severity: 'fault', where, field, message });
      continue;
    }
    const { formula } = read;
    const fits = (each: string): boolean => {
      const unit = readingUnit(take[each]);
      const known = formula.dimension;
      return known === undefined || unit === undefined || unit === 'list' || sameDimension(dimensionOf(unit), known);
    };
    const meant = name === undefined ? names.filter(fits) : names.filter((each) => each === name);
    const [reading, second] = meant;
    const units = formula.dimension === undefined ? 'nothing known' : dimensionWords(formula.dimension);
    if (name !== undefined && reading === undefined) {
      const rule = `name readings of the sweep (${listedNames(names)})`;
      refuse('unknown-name', rule, quotedText(name), nameAdvice(name, names, 'Correct the name.'));
    } else if (name === undefined && second !== undefined) {
      const advice = `Write { ${JSON.stringify(reading)}: ${JSON.stringify(formula.text)} }.`;
      refuse('ambiguous', 'say which reading it is held against', `${listedNames(meant)} of its unit`, advice);
    } else if (reading === undefined || !fits(reading)) {
      const of = reading === undefined ? 'one of the readings' : reading;
      refuse('units', `have the unit of ${of}`, units, 'Check what is multiplied with what.');
    } else if (over !== undefined) {
      rules.push({ index: names.indexOf(reading), text: formula.text, at: formula.over(over) });
    }
  }
  return { rules, issues };
}
