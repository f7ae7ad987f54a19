import { amountText, type FormulaResult } from '../document/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** A formula as text: what it is, what it gives or why it gives nothing, and what its names stood for. */
export function formulaText(result: FormulaResult): string[] {
  const none = result.reason === undefined ? '' : `, because ${result.reason}`;
  const rows = result.uses.map((use) => [use.name, amountText(use)]);
  return [...paragraph(`${result.text} = ${amountText(result)}${none}`, '  '), ...alignColumns(rows, '    ')];
}
