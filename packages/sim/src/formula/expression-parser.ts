import type * as Mathjs from 'mathjs';
import type { FunctionNode, MathNode, OperatorNode, ParenthesisNode, SymbolNode } from 'mathjs';
// @ts-expect-error -- this file has no declaration of its own; it is the whole of mathjs.
import singleFile from 'mathjs/lib/browser/math.js';
import { quotedText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import { FormulaError, type FormulaFault, placeWords } from './fault.ts';
import { formulaConstants, formulaFunctions } from './functions.ts';
import type { FormulaParser } from './parser.ts';
import { scanFormula, type Token, unitWord } from './scan.ts';
import type { FormulaTree, Operator } from './tree.ts';

/** All of mathjs in one file, which Node loads four times as fast as the hundreds of files of its other entries. */
const mathjs = singleFile as typeof Mathjs;

const operators: ReadonlyMap<string, Operator> = new Map([
  ['add', '+'],
  ['subtract', '-'],
  ['multiply', '*'],
  ['divide', '/'],
  ['pow', '^'],
]);

/** A text that the library may see, and where its characters come from. */
interface Skeleton {
  readonly text: string;
  /** For every piece of the text: its first character there, and the token. */
  readonly pieces: readonly { readonly at: number; readonly token: Token }[];
}

/**
 * Makes the parser of formulas. The library orders operators and brackets, and sees nothing else: every number, unit
 * and name is handed to it as a numbered symbol (`1.1 * R1` as `x0 * x2`), so no word of a document ever means anything
 * to it. From its tree only the kinds of nodes that are listed here are taken over.
 */
export function createFormulaParser(): FormulaParser {
  const { create, parseDependencies = {} } = mathjs;
  const { parse } = create({ parseDependencies });
  return (text, isName) => {
    try {
      const tokens = scanFormula(text);
      const skeleton = skeletonOf(tokens);
      const node = parsed(() => parse(skeleton.text), skeleton, text);
      return { ok: true, tree: new Reader(tokens, isName).read(node) };
    } catch (error) {
      if (error instanceof FormulaError) return { ok: false, fault: error.fault };
      throw error;
    }
  };
}

function skeletonOf(tokens: readonly Token[]): Skeleton {
  if (tokens.length === 0)
    throw refusal('hold an expression', 'nothing', 'Write for example 1.1 * counter.R1 * counter.C1.');
  let skeleton = '';
  const pieces: Skeleton['pieces'][number][] = [];
  for (const [index, token] of tokens.entries()) {
    const before = tokens[index - 1];
    if (before !== undefined && isOperand(token) && endsOperand(before) && !isCall(before, token)) {
      const got = `${quotedText(token.text)} ${placeWords(token.start)}`;
      throw refusal('have an operator between two values', got, 'Write * for a product.');
    }
    pieces.push({ at: skeleton.length, token });
    skeleton += token.kind === 'sign' ? token.text : `x${index} `;
  }
  return { text: skeleton, pieces };
}

function isOperand(token: Token): boolean {
  return token.kind !== 'sign' || token.text === '(';
}

function endsOperand(token: Token): boolean {
  return token.kind !== 'sign' || token.text === ')';
}

function isCall(before: Token, token: Token): boolean {
  return before.kind === 'word' && token.kind === 'sign' && token.text === '(';
}

/** Runs the library's parser and says its refusals in our words. */
function parsed(parse: () => MathNode, { text: skeleton, pieces }: Skeleton, text: string): MathNode {
  try {
    return parse();
  } catch (error) {
    const { char } = error as { char?: unknown };
    if (typeof char !== 'number') throw error;
    const count = (bracket: string): number => pieces.filter(({ token }) => token.text === bracket).length;
    const unclosed = count('(') - count(')');
    if (char > skeleton.trimEnd().length) {
      const got = `the end ${placeWords(text.trimEnd().length)}`;
      if (unclosed > 0) throw refusal('close every bracket', got, `Add ${unclosed} more ).`);
      throw refusal('end with a value', got, 'Add a number, a name or a bracket.');
    }
    const found = pieces.findLast(({ at }) => at < char)?.token ?? { text: '', start: 0 };
    const got = `${quotedText(found.text)} ${placeWords(found.start)}`;
    if (found.text === ')' && unclosed < 0) {
      throw refusal('open every bracket that it closes', got, 'Remove it, or add ( before it.');
    }
    throw refusal('have a value there', got, 'Add a number, a name or a bracket, or remove the sign.');
  }
}

/** Turns nodes of the library into a tree of ours. */
class Reader {
  readonly #tokens: readonly Token[];
  readonly #isName: (word: string) => boolean;

  constructor(tokens: readonly Token[], isName: (word: string) => boolean) {
    this.#tokens = tokens;
    this.#isName = isName;
  }

  read(node: MathNode): FormulaTree {
    switch (node.type) {
      case 'ParenthesisNode':
        return this.read((node as ParenthesisNode).content);
      case 'SymbolNode':
        return this.#operand(this.#tokenOf(node as SymbolNode));
      case 'OperatorNode':
        return this.#operation(node as OperatorNode);
      case 'FunctionNode':
        return this.#call(node as FunctionNode);
      default:
        throw refusal('be made of numbers, names, operators and functions', `a ${node.type}`, 'Write it another way.');
    }
  }

  #tokenOf({ name }: SymbolNode): Token {
    const token = this.#tokens[Number(name.slice(1))];
    if (token === undefined) throw new RangeError(`Reader: the symbol ${name} must stand for a piece of the text.`);
    return token;
  }

  #operand(token: Token): FormulaTree {
    if (token.kind === 'value') return token;
    const { text, start } = token;
    if (token.kind === 'word') {
      if (this.#isName(text) || text.includes('.')) return { kind: 'name', name: text, start };
      const constant = formulaConstants.get(text);
      if (constant !== undefined) return { kind: 'value', value: constant, unit: '', text, start };
      const unit = unitWord(text);
      if (unit !== undefined) return { kind: 'value', value: unit.value, unit: text, text, start };
      if (formulaFunctions.has(text)) {
        throw refusal('give every function its brackets', `${text} ${placeWords(start)}`, `Write ${text}( ... ).`);
      }
    }
    return { kind: 'name', name: text, start };
  }

  #operation(node: OperatorNode): FormulaTree {
    const fn: string = node.fn;
    const [first, second] = node.args;
    if (first === undefined) throw new RangeError('Reader: an operator must have a value.');
    const left = this.read(first);
    if (second === undefined) {
      if (fn === 'unaryPlus') return left;
      if (fn === 'unaryMinus') return { kind: 'negative', of: left, start: left.start };
    }
    const operator = operators.get(fn);
    if (operator === undefined || second === undefined) {
      throw refusal('use only the operators + - * / ^', quotedText(node.op), 'Write it another way.');
    }
    return { kind: 'operation', operator, left, right: this.read(second), start: left.start };
  }

  #call(node: FunctionNode): FormulaTree {
    const symbol = node.fn as MathNode;
    if (symbol.type !== 'SymbolNode')
      throw refusal('call functions by name', 'a bracket after a bracket', 'Write * for a product.');
    const { text, start } = this.#tokenOf(symbol as SymbolNode);
    const known = formulaFunctions.get(text);
    if (known === undefined) throw unknownFunction(text, start, this.#isName(text));
    const [least, most] = known.takes;
    const count = node.args.length;
    if (count < least || count > most) {
      const rule = `give ${text} ${least === most ? 'one value' : `${least} to ${most} values`}`;
      throw refusal(rule, `${count} ${placeWords(start)}`, `Write for example ${text}(2.5).`);
    }
    return { kind: 'call', name: text, of: node.args.map((argument) => this.read(argument)), start };
  }
}

function unknownFunction(text: string, start: number, isName: boolean): FormulaError {
  const got = `${quotedText(text)} ${placeWords(start)}`;
  if (isName) return refusal('have an operator between a name and a bracket', got, 'Write * for a product.');
  const names = [...formulaFunctions.keys()];
  const near = text === 'log' ? 'ln or log10' : nearestName(text, names);
  const advice =
    near === undefined ? 'Readings are taken in a reading cell and used by name.' : `Did you mean ${near}?`;
  return refusal(`call only the functions ${names.join(', ')}`, got, advice);
}

function refusal(rule: string, got: string, advice: string): FormulaError {
  const fault: FormulaFault = { rule, got, advice };
  return new FormulaError(fault);
}
