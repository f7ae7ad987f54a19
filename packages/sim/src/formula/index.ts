export { type CheckedFormula, checkFormula } from './check.ts';
export { compileFormula, compileNumber } from './compile.ts';
export { type Dimension, dimensionOf, dimensionWords, sameDimension, unitOf, unitText } from './dimension.ts';
export type { FormulaFault } from './fault.ts';
export { formulaFunctions } from './functions.ts';
export { type FormulaParser, loadFormulaParser } from './parser.ts';
export { formulaWords, LONGEST_FORMULA } from './scan.ts';
export { type FormulaTree, treeNames } from './tree.ts';
