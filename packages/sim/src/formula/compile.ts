import { formulaFunctions } from './functions.ts';
import { type FormulaTree, treeText } from './tree.ts';

/** What a formula gave: a number in SI units, or NaN and why there is none. */
export interface FormulaValue {
  readonly value: number;
  readonly reason?: string;
}

/** Values of names in SI units. A name that is not there, or whose value is not finite, makes the result not a number. */
export type NamedValues = ReadonlyMap<string, number>;

/**
 * Turns a checked formula into a function of the values of its names, all in SI units: made once, called often. The
 * function returns why there is no value when there is none: a division by zero, a root of a negative number.
 */
export function compileFormula({ tree }: { readonly tree: FormulaTree }): (values: NamedValues) => FormulaValue {
  const compute = compileNumber({ tree });
  return (values) => {
    const value = compute(values);
    return Number.isFinite(value) ? { value: value === 0 ? 0 : value } : { value: NaN, reason: reasonIn(tree, values) };
  };
}

/**
 * Like {@link compileFormula} without the reasons, for many thousands of calls: a function that returns the number, not
 * finite where there is none.
 */
export function compileNumber({ tree }: { readonly tree: FormulaTree }): (values: NamedValues) => number {
  switch (tree.kind) {
    case 'value': {
      const { value } = tree;
      return () => value;
    }
    case 'name': {
      const { name } = tree;
      return (values) => values.get(name) ?? NaN;
    }
    case 'negative': {
      const of = compileNumber({ tree: tree.of });
      return (values) => -of(values);
    }
    case 'operation': {
      const left = compileNumber({ tree: tree.left });
      const right = compileNumber({ tree: tree.right });
      return operation(tree.operator, left, right);
    }
    case 'call': {
      const compute = formulaFunctions.get(tree.name)?.compute ?? (() => NaN);
      const of = tree.of.map((argument) => compileNumber({ tree: argument }));
      const [only] = of;
      if (of.length === 1 && only !== undefined) return (values) => compute(only(values));
      return (values) => compute(...of.map((argument) => argument(values)));
    }
  }
}

type Compute = (values: NamedValues) => number;

function operation(operator: '+' | '-' | '*' | '/' | '^', left: Compute, right: Compute): Compute {
  switch (operator) {
    case '+':
      return (values) => left(values) + right(values);
    case '-':
      return (values) => left(values) - right(values);
    case '*':
      return (values) => left(values) * right(values);
    case '/':
      return (values) => left(values) / right(values);
    case '^':
      return (values) => left(values) ** right(values);
  }
}

/** The innermost reason why a tree has no value. */
function reasonIn(tree: FormulaTree, values: NamedValues): string {
  const faulty = children(tree).find((child) => !Number.isFinite(compileNumber({ tree: child })(values)));
  if (faulty !== undefined) return reasonIn(faulty, values);
  if (tree.kind === 'name') return `${tree.name} has none`;
  if (tree.kind === 'call') {
    const needs = formulaFunctions.get(tree.name)?.needs;
    if (needs !== undefined) return `${treeText(tree)} needs ${needs}`;
  }
  if (tree.kind === 'operation') {
    const { operator, left, right } = tree;
    const base = compileNumber({ tree: left })(values);
    const other = compileNumber({ tree: right })(values);
    if ((operator === '/' && other === 0) || (operator === '^' && base === 0))
      return `${treeText(tree)} divides by zero`;
    if (operator === '^' && base < 0 && !Number.isInteger(other)) {
      return `${treeText(tree)} is a root of a negative number`;
    }
  }
  return `${treeText(tree)} is too large to compute with`;
}

function children(tree: FormulaTree): readonly FormulaTree[] {
  switch (tree.kind) {
    case 'value':
    case 'name':
      return [];
    case 'negative':
      return [tree.of];
    case 'operation':
      return [tree.left, tree.right];
    case 'call':
      return tree.of;
  }
}
