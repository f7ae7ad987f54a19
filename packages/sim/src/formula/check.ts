import { combined, type Dimension, dimensionWords, isPlain, PLAIN, raised, sameDimension } from './dimension.ts';
import { FormulaError, type FormulaFault, placeWords } from './fault.ts';
import { compileFormula } from './compile.ts';
import { formulaFunctions } from './functions.ts';
import { writtenDimension } from './scan.ts';
import { type FormulaTree, treeNames, treeText } from './tree.ts';

/** A formula whose units fit. Plain data. */
export interface CheckedFormula {
  readonly tree: FormulaTree;
  /** The names whose values it needs, each once, in order of first mention. */
  readonly names: readonly string[];
  /** What it gives; `undefined` where that hangs on a name whose dimension is not known. */
  readonly dimension: Dimension | undefined;
}

/** A checked formula, or what is wrong with its units. */
export type FormulaCheck =
  | { readonly ok: true; readonly formula: CheckedFormula }
  | { readonly ok: false; readonly fault: FormulaFault };

/**
 * Checks once and for all whether the units of a formula fit together, whatever its values.
 *
 * @param dimensionOfName what a name measures; `undefined` where that is not known, which is taken to fit.
 */
export function checkFormula(
  tree: FormulaTree,
  dimensionOfName: (name: string) => Dimension | undefined,
): FormulaCheck {
  try {
    const dimension = dimensionOfTree(tree, dimensionOfName);
    return { ok: true, formula: { tree, names: treeNames(tree), dimension } };
  } catch (error) {
    if (error instanceof FormulaError) return { ok: false, fault: error.fault };
    throw error;
  }
}

type DimensionOfName = (name: string) => Dimension | undefined;

function dimensionOfTree(tree: FormulaTree, names: DimensionOfName): Dimension | undefined {
  switch (tree.kind) {
    case 'value':
      return writtenDimension(tree.unit);
    case 'name':
      return names(tree.name);
    case 'negative':
      return dimensionOfTree(tree.of, names);
    case 'call':
      return dimensionOfCall(tree, names);
    case 'operation':
      return dimensionOfOperation(tree, names);
  }
}

function dimensionOfOperation(
  tree: FormulaTree & { kind: 'operation' },
  names: DimensionOfName,
): Dimension | undefined {
  const { operator, left, right } = tree;
  const a = dimensionOfTree(left, names);
  const b = dimensionOfTree(right, names);
  if (operator === '^') return dimensionOfPower(tree, a, b);
  if (operator === '*' || operator === '/') {
    return a === undefined || b === undefined ? undefined : combined(a, b, operator === '*' ? 1 : -1);
  }
  if (a !== undefined && b !== undefined && !sameDimension(a, b)) {
    const words =
      operator === '+'
        ? `adds ${dimensionWords(a)} to ${dimensionWords(b)}`
        : `takes ${dimensionWords(b)} from ${dimensionWords(a)}`;
    throw misfit(
      operator === '+' ? 'add only what has the same unit' : 'subtract only what has the same unit',
      tree,
      words,
    );
  }
  return a ?? b;
}

function dimensionOfPower(
  tree: FormulaTree & { kind: 'operation' },
  base: Dimension | undefined,
  power: Dimension | undefined,
): Dimension | undefined {
  if (power !== undefined && !isPlain(power)) {
    throw misfit('have plain numbers as powers', tree, `has ${dimensionWords(power)} as a power`);
  }
  if (base === undefined || isPlain(base)) return base;
  // What a value with a unit becomes hangs on the power, so that must be known before any value is.
  if (treeNames(tree.right).length > 0) {
    throw misfit('raise a value with a unit only to a number', tree, 'has a power that is not a number');
  }
  const { value } = compileFormula({ tree: tree.right })(new Map());
  if (Number.isFinite(value)) return raised(base, value);
  throw misfit('raise a value with a unit only to a number', tree, 'has a power that is not a number');
}

function dimensionOfCall(tree: FormulaTree & { kind: 'call' }, names: DimensionOfName): Dimension | undefined {
  const given = tree.of.map((argument) => dimensionOfTree(argument, names));
  const units = formulaFunctions.get(tree.name)?.units;
  const [first] = given;
  if (units === 'root') return first === undefined ? undefined : raised(first, 1 / 2);
  if (units === 'keep') {
    const known = given.filter((dimension) => dimension !== undefined);
    const other = known.find((dimension) => !sameDimension(dimension, known[0] ?? PLAIN));
    if (other === undefined) return known[0];
    const words = `compares ${dimensionWords(known[0] ?? PLAIN)} with ${dimensionWords(other)}`;
    throw misfit('compare only what has the same unit', tree, words);
  }
  if (first !== undefined && !isPlain(first)) {
    throw misfit(`give ${tree.name} a plain number`, tree, `gives it ${dimensionWords(first)}`);
  }
  return PLAIN;
}

function misfit(rule: string, tree: FormulaTree, words: string): FormulaError {
  const got = `${treeText(tree)} ${placeWords(tree.start)}, which ${words}`;
  return new FormulaError({ rule, got, advice: ADVICE });
}

const ADVICE = 'Check what is multiplied with what, or divide by a unit, as in width / 1 s.';
