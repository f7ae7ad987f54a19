import { amountText, type AskResult, numberText } from '@two-thirds/sim/document';
import { readQuantity } from '@two-thirds/sim/quantity';
import { slipWords } from './slips.ts';

/** A number as somebody typed it, in SI units, or why it is none: "must ...; got .... ...". */
export type TypedAnswer =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly message: string };

/** Answers that differ by less than this share of the tolerance are inside it: rounding of the last digits. */
const ROUNDING = 1e-9;

/** Reads an answer in the unit of the question; a unit without a name (V/s) may be written or left out. */
export function readAnswer(text: string, { unit, unitText }: Pick<AskResult, 'unit' | 'unitText'>): TypedAnswer {
  if (unit !== null) return readQuantity(text, unit);
  const trimmed = text.trim();
  const number = unitText !== '' && trimmed.endsWith(unitText) ? trimmed.slice(0, -unitText.length).trim() : trimmed;
  const value = number === '' ? NaN : Number(number);
  if (Number.isFinite(value)) return { ok: true, value };
  const what = unitText === '' ? 'a plain number' : `a number in ${unitText}`;
  return { ok: false, message: `must be ${what}; got ${JSON.stringify(trimmed.slice(0, 40))}. Write for example 2.5.` };
}

/** How an answer compares with what was computed. */
export interface Comparison {
  /** The answer, written like the computed value. */
  readonly typed: string;
  readonly computed: string;
  /** How far the answer is off, in words: `3.00 % too low`. */
  readonly difference: string;
  readonly isInside: boolean;
  /** What a wrong answer suggests about the way to it, as a sentence. */
  readonly slip?: string;
}

/** Compares an answer with the computed value; `undefined` where there is no value to compare with. */
export function compareAnswer(typed: number, result: AskResult): Comparison | undefined {
  const { value, allowance } = result;
  if (value === null || allowance === null) return undefined;
  const off = typed - value;
  const isInside = Math.abs(off) <= allowance + Math.max(allowance, Math.abs(value)) * ROUNDING;
  const isPlain = result.unit === null && result.unitText === '';
  const slip = isInside ? undefined : slipWords(typed, value, isPlain);
  return {
    typed: amountText({ ...result, value: typed }),
    computed: amountText(result),
    difference: differenceWords(off, result, value),
    isInside,
    ...(slip === undefined ? {} : { slip }),
  };
}

function differenceWords(off: number, result: AskResult, value: number): string {
  if (off === 0) return 'exactly it';
  const size =
    value === 0 ? amountText({ ...result, value: Math.abs(off) }) : numberText(Math.abs(off / value), 'share');
  return `${size} too ${off > 0 ? 'high' : 'low'}`;
}

/** What is asked of the reader beside the field: the unit and an example of it. */
export function answerHint({ unit, unitText }: Pick<AskResult, 'unit' | 'unitText'>): string {
  if (unit === 'share') return 'a number such as 0.5, or 50 %';
  if (unit !== null) return `with its unit, ${unit}`;
  return unitText === '' ? 'a plain number' : `in ${unitText}`;
}
