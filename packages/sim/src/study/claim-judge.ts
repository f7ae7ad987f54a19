import { compileNumber, type FormulaTree } from '../formula/index.ts';
import { newGraphStoreForSamples } from '../run/simulate.ts';
import type { ClaimPlan } from './claim-plan.ts';
import { evaluate, type StopSignal } from './evaluate.ts';
import type { NamedValues, Subject } from './subject.ts';

/** Differences below this share of the right side are rounding. */
const ROUNDING = 1e-9;

/** What a claim came to with certain values. Plain data. */
export interface Judgement {
  /** `open`: there was no run, or a side has no value for want of a number that is no reading. */
  readonly verdict: 'holds' | 'fails' | 'open';
  /** The sides in SI units; null where there is no value. */
  readonly left: number | null;
  readonly right: number | null;
  /** (left - right) / |right|; null where a side has no value or the right one is 0. */
  readonly error: number | null;
  /** Why a side has no value; only then. */
  readonly reason?: string;
}

/** Tries a claim with values of its choices, one each, null for none. @returns undefined when the signal stopped it. */
export type Judge = (values: readonly (number | null)[], signal?: StopSignal) => Judgement | undefined;

/**
 * Makes what tries a claim. A reading without a value makes it fail: it is not what was claimed. A run that cannot be made
 * or does not reach its end decides nothing.
 */
export function claimJudge(plan: ClaimPlan, subject: Subject): Judge {
  const { choices, maxEvents } = plan;
  const marks = Object.keys(plan.readings);
  const readings = Object.values(plan.readings);
  const left = compileNumber({ tree: plan.left });
  const right = compileNumber({ tree: plan.right });
  const from = timeOf(plan.from);
  const until = timeOf(plan.until);
  const names = Object.entries(plan.names);
  const graphs = newGraphStoreForSamples();
  return (values, signal) => {
    const given = new Map<string, number>();
    for (const [index, { name }] of choices.entries()) {
      const value = values[index] ?? null;
      if (value !== null) given.set(name, value);
    }
    const known = new Map<string, number>();
    for (const [name, meant] of names) {
      known.set(name, 'value' in meant ? meant.value : (values[meant.choice] ?? NaN));
    }
    const window = { from: from(known), until: until(known) };
    if (!(window.from >= 0 && window.until > window.from && Number.isFinite(window.until))) {
      return open('the end of the run is not later than its start');
    }
    const found = evaluate(subject, given, { readings, window, maxEvents, graphs }, signal);
    if (found === undefined) return undefined;
    if (found.failed !== null) return open(found.failed);
    for (const [index, mark] of marks.entries()) known.set(mark, found.measured[index]?.value ?? NaN);
    const [a, b] = [numberOf(left(known)), numberOf(right(known))];
    if (a === null || b === null) {
      const reason = found.measured.find((each) => each.reason !== undefined)?.reason;
      const verdict = reason === undefined ? 'open' : 'fails';
      return { verdict, left: a, right: b, error: null, reason: reason ?? 'a side of the claim cannot be computed' };
    }
    const error = b === 0 ? (a === 0 ? 0 : null) : (a - b) / Math.abs(b);
    return { verdict: holds(plan, a, b) ? 'holds' : 'fails', left: a, right: b, error };
  };
}

/** Judgements kept; more are made anew. */
const MOST_KEPT = 20_000;

/** The same, but values that were tried before are not run again: courses, trials and shrinking meet in the same ones. */
export function rememberingJudge(judge: Judge): Judge {
  const known = new Map<string, Judgement>();
  return (values, signal) => {
    if (signal?.aborted === true) return undefined;
    const key = values.join(' ');
    const found = known.get(key) ?? judge(values, signal);
    if (found !== undefined && known.size < MOST_KEPT) known.set(key, found);
    return found;
  };
}

function timeOf(time: number | FormulaTree): (values: NamedValues) => number {
  return typeof time === 'number' ? () => time : compileNumber({ tree: time });
}

function open(reason: string): Judgement {
  return { verdict: 'open', left: null, right: null, error: null, reason };
}

function numberOf(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function holds({ relation, tolerance }: Pick<ClaimPlan, 'relation' | 'tolerance'>, a: number, b: number): boolean {
  if (relation === '<') return a < b;
  if (relation === '>') return a > b;
  const rounding = ROUNDING * Math.abs(b);
  const allowed =
    tolerance === null ? rounding : (tolerance.isShare ? tolerance.value * Math.abs(b) : tolerance.value) + rounding;
  if (relation === '<=') return a <= b + allowed;
  if (relation === '>=') return a >= b - allowed;
  return Math.abs(a - b) <= allowed;
}
