import { listedText } from '../core/listed-text.ts';
import { percentText, shortText, spokenName, type Unit } from '../quantity/index.ts';
import type { ClaimOutcome, Counterexample } from './claim.ts';
import type { Judgement } from './claim-judge.ts';
import type { ClaimChoice } from './claim-plan.ts';
import type { ClaimRelation } from './claim-text.ts';
import { quantityText } from './sweep-words.ts';

/** Digits of values that were found by halving or measured. */
const DIGITS = 4;

/** What a claim is called in sentences about it. */
export interface ClaimWording {
  readonly left: string;
  readonly right: string;
  readonly relation: ClaimRelation;
  /** Unit of both sides; null for plain numbers and units without a name. */
  readonly unit: Unit | null;
  readonly choices: readonly ClaimChoice[];
  readonly seed: number;
}

/** What trying a claim came to, in a few sentences built from its own numbers. */
export function claimWords(wording: ClaimWording, outcome: ClaimOutcome): string {
  const { counterexample, verdict, nominal, share } = outcome;
  if (share === 0) return 'Nothing is computed yet.';
  const parts = [countWords(wording, outcome)];
  if (counterexample !== null) parts.push(counterexampleWords(wording, counterexample));
  else if (verdict === 'holds' && nominal !== null) parts.push(`As the board stands, ${sidesWords(wording, nominal)}.`);
  return [...parts, ...rangeWords(wording, outcome), ...boxWords(wording, outcome)].join(' ');
}

/** The value of a choice as text: `68 kΩ`, `bipolar`. */
export function choiceText({ unit, words }: Pick<ClaimChoice, 'unit' | 'words'>, value: number | null): string {
  if (value === null) return 'none';
  return words === null ? shortText(value, unit) : (words[value] ?? '');
}

function countWords(
  { seed }: ClaimWording,
  { verdict, trials, holds, fails, open, reasons, share }: ClaimOutcome,
): string {
  const isWhole = share === 1;
  if (!isWhole && trials === 0) return 'No trial is done yet.';
  const why = reasons.length === 0 ? '' : `: ${reasons[0] ?? ''}`;
  const undecided = open === 0 ? '' : ` ${open} of them decided nothing${why.replace(/\.$/, '')}.`;
  const drawn = `${trials} trials (seed ${seed})`;
  if (verdict === 'open') return `Nothing is decided by ${drawn}${why}`;
  if (verdict === 'holds') {
    return `${isWhole ? 'It' : 'So far it'} holds in ${open === 0 ? `all of ${drawn}` : `${holds} of ${drawn} and fails in none`}.${undecided}`;
  }
  const some =
    fails === 0 ? 'It fails, although in none of' : `It fails in ${fails === trials ? 'all' : `${fails} of`}`;
  return `${some} ${drawn}.${undecided}`;
}

function counterexampleWords(wording: ClaimWording, example: Counterexample): string {
  const { values, off } = example;
  const changed = off.flatMap((index) => {
    const choice = wording.choices[index];
    return choice === undefined ? [] : [`${spokenName(choice.name)} is ${choiceText(choice, values[index] ?? null)}`];
  });
  if (changed.length === 0) return `It fails for the board as it stands: ${sidesWords(wording, example)}.`;
  return `The simplest case in which it fails: ${listedText(changed)}, everything else as it stands; there ${sidesWords(wording, example)}.`;
}

/** Both sides of a claim and how far they are apart. */
function sidesWords(
  { left, right, unit, relation }: ClaimWording,
  { left: a, right: b, error, reason }: Judgement,
): string {
  if (a === null || b === null) {
    return `${a === null ? left : right} has no value (${(reason ?? 'unknown').replace(/\.$/, '')})`;
  }
  const first = `${left} is ${quantityText(a, unit, DIGITS)}`;
  if (isPlainNumber(right)) return first;
  const sides = `${first} and ${right} is ${quantityText(b, unit, DIGITS)}`;
  if (error === null) return sides;
  return `${sides}, ${relation === '=' ? `an error of ${errorText(error)}` : apartText(error)}`;
}

/** How far the left side of a claim lies from the right: it is no error where the claim is that one is the larger. */
export function apartText(error: number): string {
  const percent = Number((100 * Math.abs(error)).toPrecision(3));
  if (percent < 1e-6) return 'both sides alike';
  return `the left side ${percentText(percent)} ${error > 0 ? 'above' : 'below'} the right`;
}

/** A share as per cent with its sign. */
export function errorText(error: number): string {
  const percent = Number((100 * error).toPrecision(3));
  if (Math.abs(percent) < 1e-6) return percentText(0);
  return percentText(percent, { signed: true });
}

/** Whether a side as written is a bare number, which need not be said twice. */
export function isPlainNumber(side: string): boolean {
  return /^[\d.]+$/.test(side);
}

/** Where it holds, for every choice alone. */
function rangeWords({ choices }: ClaimWording, { courses, nominal }: ClaimOutcome): string[] {
  const stands = nominal?.verdict === 'holds';
  let checked = 0;
  const whole: string[] = [];
  const clauses = choices.flatMap((choice, index) => {
    const { points, range } = courses[index] ?? { points: [], range: null };
    const holding = points.filter(({ verdict }) => verdict === 'holds');
    if (points.length === 0) return [];
    if (holding.length === points.length && (range === null || (range.lowIsEnd && range.highIsEnd))) {
      whole.push(spokenName(choice.name));
      return [];
    }
    if (choice.words !== null) {
      return holding.length === 0
        ? []
        : [
            `${spokenName(choice.name)} ${listedText(
              holding.map(({ x }) => choiceText(choice, x)),
              'or',
            )}`,
          ];
    }
    if (range === null) return [];
    const { low, high } = range;
    checked = Math.max(checked, range.checked);
    if (low === high) return [`${spokenName(choice.name)} of ${choiceText(choice, low)} only`];
    return [`${spokenName(choice.name)} from ${choiceText(choice, low)} to ${choiceText(choice, high)}`];
  });
  if (whole.length > 0) clauses.push(`every value of ${listedText(whole)} that was tried`);
  if (clauses.length === 0) return [];
  const fresh = checked === 0 ? '' : ` (found by halving, checked with ${checked} fresh values each)`;
  const how = stands ? 'it holds' : 'though not as the board stands, it holds';
  return [`With one value changed at a time, ${how} for ${listedText(clauses, 'and for')}${fresh}.`];
}

/** Where it holds with several values changed at a time. */
function boxWords({ choices }: ClaimWording, { box, nominal }: ClaimOutcome): string[] {
  if (box === null || nominal?.verdict !== 'holds') return [];
  const clauses = choices.flatMap((choice, index) => {
    const side = box.sides[index] ?? null;
    if (side === null) return [];
    const text = (value: number): string => choiceText(choice, value);
    if (side.among !== null) return [`${spokenName(choice.name)} ${listedText(side.among.map(text), 'or')}`];
    return [`${spokenName(choice.name)} from ${text(side.low)} to ${text(side.high)}`];
  });
  return [`Together, it holds for ${listedText(clauses, 'with')} (${box.checked} points tried, corners among them).`];
}
