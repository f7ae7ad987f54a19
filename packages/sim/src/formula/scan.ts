import { quotedText } from '../core/found-text.ts';
import { nearestDouble } from '../quantity/decimal.ts';
import { readLetterCode } from '../quantity/letter-code.ts';
import { readQuantityText } from '../quantity/quantity-text.ts';
import { units } from '../quantity/unit.ts';
import { dimensionOf, type Dimension, PLAIN } from './dimension.ts';
import { FormulaError, placeWords } from './fault.ts';

/** Longest text of a formula (characters): more than a page of it nobody reads. */
export const LONGEST_FORMULA = 2000;
/** Most digits and characters of one number; a double needs 17. */
const LONGEST_NUMBER = 40;
/** Most brackets inside each other, and most signs and powers in a row: each is one step deeper for whoever reads it. */
const DEEPEST = 60;

/** A piece of a formula. `start` and `end` count characters from 0, the end not included. */
export type Token =
  /** A number, or a number with its unit: one value, however it is written. */
  | {
      readonly kind: 'value';
      readonly value: number;
      readonly unit: string;
      readonly text: string;
      readonly start: number;
    }
  /** A name of the document, a unit that stands alone, a constant, or a function before its bracket. */
  | { readonly kind: 'word'; readonly text: string; readonly start: number }
  | { readonly kind: 'sign'; readonly text: '+' | '-' | '*' | '/' | '^' | '(' | ')' | ','; readonly start: number };

const NUMBER = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
/** A letter, then letters, digits or `_`; pieces joined by points. Units have letters of their own: µ, Ω. */
const WORD = /[A-Za-z\u00b5\u03bc\u03a9\u2126_][\w\u00b5\u03bc\u03a9\u2126]*(?:\.[A-Za-z_]\w*)*/y;
const SPACE = /[\s\u00a0\u2009\u202f]*/y;
/** Signs that are read, and what they mean. */
const signs: ReadonlyMap<string, '+' | '-' | '*' | '/' | '^' | '(' | ')' | ','> = new Map([
  ...(['+', '-', '*', '/', '^', '(', ')', ','] as const).map((sign) => [sign, sign] as const),
  ['\u2212', '-'],
  ['\u00b7', '*'],
  ['\u22c5', '*'],
  ['\u00d7', '*'],
]);

/**
 * Takes the text of a formula apart into numbers with units, words and signs. Everything that is no part of the grammar
 * is refused here, with its place: text that is too long, numbers that no double holds, brackets too deep, other signs.
 *
 * @throws FormulaError saying what was found and where.
 */
export function scanFormula(text: string): Token[] {
  if (text.length > LONGEST_FORMULA) {
    throw new FormulaError({
      rule: `have at most ${LONGEST_FORMULA} characters`,
      got: `${text.length}`,
      advice: 'Divide it into several formula cells.',
    });
  }
  const tokens: Token[] = [];
  let depth = 0;
  let row = 0;
  for (let at = skip(text, 0); at < text.length; at = skip(text, at)) {
    const [token, end] = readToken(text, at);
    if (token.kind === 'sign') depth += token.text === '(' ? 1 : token.text === ')' ? -1 : 0;
    if (depth > DEEPEST) {
      throw new FormulaError({
        rule: `have at most ${DEEPEST} brackets inside each other`,
        got: `one more ${placeWords(at)}`,
        advice: 'Divide it into several formula cells.',
      });
    }
    row = inARow(row, token, tokens.at(-1));
    if (row > DEEPEST) {
      throw new FormulaError({
        rule: `have at most ${DEEPEST} signs or powers in a row`,
        got: `one more ${placeWords(at)}`,
        advice: 'Leave out signs that do nothing, or divide it into several formula cells.',
      });
    }
    tokens.push(token);
    at = end;
  }
  return tokens;
}

/** How many signs before values and powers have come since the last operator between two values. */
function inARow(row: number, token: Token, before: Token | undefined): number {
  if (token.kind !== 'sign' || token.text === '(' || token.text === ')') return row;
  if (token.text === '^') return row + 1;
  const isBefore = before === undefined || (before.kind === 'sign' && before.text !== ')');
  return isBefore && (token.text === '+' || token.text === '-') ? row + 1 : 0;
}

/**
 * The words of a text that may be names of the document, each once; whatever the text, faults included. Takes no
 * notice of what they mean.
 */
export function formulaWords(text: string): string[] {
  if (text.length > LONGEST_FORMULA) return [];
  const words = new Set<string>();
  for (let at = skip(text, 0); at < text.length; at = skip(text, at)) {
    const number = match(NUMBER, text, at);
    // What stands behind a number is its unit, never a name.
    const start = number === '' ? at : skip(text, at + number.length);
    const word = match(WORD, text, start);
    if (word !== '' && number === '') words.add(word);
    at = Math.max(at + 1, start + word.length);
  }
  return [...words];
}

/** The value and dimension of a word that is a unit with or without prefix, `undefined` if it is none. */
export function unitWord(word: string): { readonly value: number; readonly dimension: Dimension } | undefined {
  const quantity = quantityOf('1', word);
  return quantity === undefined ? undefined : { value: quantity.value, dimension: dimensionOf(quantity.unit) };
}

/** The dimension of a value by the unit it was written with. */
export function writtenDimension(unit: string): Dimension {
  return unit === '' ? PLAIN : (unitWord(unit)?.dimension ?? PLAIN);
}

function readToken(text: string, at: number): [token: Token, end: number] {
  const number = match(NUMBER, text, at);
  if (number !== '') return readValue(text, at, number);
  const word = match(WORD, text, at);
  if (word !== '') return [{ kind: 'word', text: word, start: at }, at + word.length];
  const character = String.fromCodePoint(text.codePointAt(at) ?? 0);
  const sign = signs.get(character);
  if (sign === undefined) {
    throw new FormulaError({
      rule: 'be made of numbers with units, names, + - * / ^, brackets and functions',
      got: `${quotedText(character)} ${placeWords(at)}`,
      advice: signAdvice(character),
    });
  }
  if (sign === '*' && text[at + 1] === '*') {
    throw new FormulaError({
      rule: 'write a power with ^',
      got: `"**" ${placeWords(at)}`,
      advice: 'Write for example 2^3.',
    });
  }
  return [{ kind: 'sign', text: sign, start: at }, at + character.length];
}

/** A number with the unit behind it, if one is there. */
function readValue(text: string, at: number, number: string): [token: Token, end: number] {
  const place = placeWords(at);
  if (number.length > LONGEST_NUMBER) {
    throw new FormulaError({
      rule: `have numbers of at most ${LONGEST_NUMBER} characters`,
      got: `one of ${number.length} ${place}`,
      advice: 'Round it: 17 digits are all that is kept.',
    });
  }
  const after = at + number.length;
  if (text[after] === '%') return valueToken(text, at, after + 1, number, '%');
  const gap = skip(text, after);
  if (text[gap] === '%') return valueToken(text, at, gap + 1, number, '%');
  const word = match(WORD, text, gap);
  if (word === '') return valueToken(text, at, after, number, '');
  const code = gap === after ? number + word : '';
  const isCode = code !== '' && (readLetterCode(code, 'Ω') !== undefined || readLetterCode(code, 'F') !== undefined);
  if (quantityOf(number, word) !== undefined) return valueToken(text, at, gap + word.length, number, word);
  if (isCode) {
    throw new FormulaError({
      rule: 'write quantities with their unit',
      got: `the letter code ${quotedText(code)} ${place}`,
      advice: 'A code does not say in a formula what it measures. Write for example 4.7 kΩ.',
    });
  }
  throw new FormulaError({
    rule: 'have a unit or an operator behind a number',
    got: `${quotedText(word)} ${placeWords(gap)}`,
    advice: `Write a unit such as kΩ or µF, or ${number} * ${word.slice(0, 20)}.`,
  });
}

function valueToken(
  text: string,
  start: number,
  end: number,
  number: string,
  unit: string,
): [token: Token, end: number] {
  const [mantissa = '', exponent = '0'] = number.split(/e/i);
  const value = unit === '' ? nearestDouble(mantissa, Number(exponent)) : quantityOf(number, unit)?.value;
  const isLost = value === 0 && /[1-9]/.test(mantissa);
  if (value === undefined || !Number.isFinite(value) || isLost) {
    throw new FormulaError({
      rule: 'have numbers that can be computed with',
      got: `${quotedText(text.slice(start, end))} ${placeWords(start)}, too ${isLost ? 'small' : 'large'}`,
      advice: 'Numbers go from 1e-300 to 1e300.',
    });
  }
  return [{ kind: 'value', value, unit, text: text.slice(start, end), start }, end];
}

function quantityOf(number: string, unitWritten: string): { value: number; unit: (typeof units)[number] } | undefined {
  for (const unit of units) {
    const value = readQuantityText(`${number} ${unitWritten}`, unit);
    if (value === undefined) continue;
    return { value: value === 'too large' ? Infinity : value === 'too small' ? 0 : value, unit };
  }
  return undefined;
}

function signAdvice(character: string): string {
  if (character === ':') return 'There are no ranges; a sweep cell runs through values.';
  if (character === '=') return 'A formula only gives a value; name it by the id of its cell.';
  if (character === '"' || character === "'") return 'There are no texts in a formula.';
  if ('[]{}'.includes(character)) return 'Use round brackets ( ).';
  if (character === ';') return 'Put every formula into a cell of its own.';
  return 'Remove it.';
}

function skip(text: string, at: number): number {
  return at + match(SPACE, text, at).length;
}

/** What a sticky pattern finds at a place, empty if nothing. */
function match(pattern: RegExp, text: string, at: number): string {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0] ?? '';
}
