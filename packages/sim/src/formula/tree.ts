/** Operations between values. */
export type Operator = '+' | '-' | '*' | '/' | '^';

/** A formula taken apart: plain data, safe to keep in files and to send between threads. `start` counts characters from 0. */
export type FormulaTree =
  /** A number or quantity in SI units. `unit` is what it was written with, `''` for plain numbers. */
  | {
      readonly kind: 'value';
      readonly value: number;
      readonly unit: string;
      readonly text: string;
      readonly start: number;
    }
  /** A name of the document, as written: `numbers.width`, `counter.R1`, `rule`. */
  | { readonly kind: 'name'; readonly name: string; readonly start: number }
  | { readonly kind: 'negative'; readonly of: FormulaTree; readonly start: number }
  | {
      readonly kind: 'operation';
      readonly operator: Operator;
      readonly left: FormulaTree;
      readonly right: FormulaTree;
      readonly start: number;
    }
  | { readonly kind: 'call'; readonly name: string; readonly of: readonly FormulaTree[]; readonly start: number };

const strength: Readonly<Record<Operator, number>> = { '+': 1, '-': 1, '*': 2, '/': 2, '^': 4 };
/** A minus sign binds more than a product and less than a power. */
const NEGATIVE = 3;
/** Longer texts of a tree are cut in messages (characters). */
const SHOWN = 60;

/** The tree as text again, with the brackets it needs; cut in the middle of a message. */
export function treeText(tree: FormulaTree): string {
  const text = written(tree);
  return text.length > SHOWN ? `${text.slice(0, SHOWN)}...` : text;
}

function written(tree: FormulaTree): string {
  switch (tree.kind) {
    case 'value':
      return tree.text;
    case 'name':
      return tree.name;
    case 'negative':
      return `-${bracketed(tree.of, NEGATIVE)}`;
    case 'call':
      return `${tree.name}(${tree.of.map(written).join(', ')})`;
    case 'operation': {
      const own = strength[tree.operator];
      const left = bracketed(tree.left, tree.operator === '^' ? own + 1 : own);
      const right = bracketed(tree.right, tree.operator === '-' || tree.operator === '/' ? own + 1 : own);
      return tree.operator === '^' ? `${left}^${right}` : `${left} ${tree.operator} ${right}`;
    }
  }
}

function bracketed(tree: FormulaTree, least: number): string {
  const own = tree.kind === 'operation' ? strength[tree.operator] : tree.kind === 'negative' ? NEGATIVE : Infinity;
  return own < least ? `(${written(tree)})` : written(tree);
}

/** The names of the document that a tree uses, each once, in order of first mention. */
export function treeNames(tree: FormulaTree): string[] {
  switch (tree.kind) {
    case 'value':
      return [];
    case 'name':
      return [tree.name];
    case 'negative':
      return treeNames(tree.of);
    case 'operation':
      return [...new Set([...treeNames(tree.left), ...treeNames(tree.right)])];
    case 'call':
      return [...new Set(tree.of.flatMap(treeNames))];
  }
}
