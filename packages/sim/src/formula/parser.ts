import type { FormulaFault } from './fault.ts';
import type { FormulaTree } from './tree.ts';

/** A formula taken apart, or what is wrong with its text. */
type ParsedFormula =
  | { readonly ok: true; readonly tree: FormulaTree }
  | { readonly ok: false; readonly fault: FormulaFault };

/**
 * Takes the text of a formula apart; never throws, whatever the text.
 *
 * @param isName whether a word is a name of the document. Such words are names even where a unit is called the same.
 */
export type FormulaParser = (text: string, isName: (word: string) => boolean) => ParsedFormula;

/**
 * Loads what parses formulas. It is large, and most documents have no formula, so it is loaded only when it is asked for;
 * what {@link checkFormula} and {@link compileFormula} do with a tree needs it no longer.
 */
export async function loadFormulaParser(): Promise<FormulaParser> {
  const { createFormulaParser } = await import('./expression-parser.ts');
  return createFormulaParser();
}
