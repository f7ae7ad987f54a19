export { type CheckedFormula, checkFormula, type FormulaCheck } from './check.ts';
export { compileFormula, compileNumber, type FormulaValue, type NamedValues } from './compile.ts';
export { type Dimension, dimensionOf, dimensionWords, sameDimension, unitOf, unitText } from './dimension.ts';
export type { FormulaFault } from './fault.ts';
export { formulaFunctions } from './functions.ts';
export { type FormulaParser, loadFormulaParser, type ParsedFormula } from './parser.ts';
export { formulaWords, LONGEST_FORMULA } from './scan.ts';
export { type FormulaTree, treeNames } from './tree.ts';
