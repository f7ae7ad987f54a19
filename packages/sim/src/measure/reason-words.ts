import { formatQuantity } from '../quantity/index.ts';
import type { Window } from './context.ts';

/** A time that somebody gave, as short as it was given: `20 s`. */
function givenTime(time: number): string {
  return formatQuantity(time, 's', Number(time.toPrecision(6)) === time ? { exact: true } : { digits: 6 });
}

/**
 * The window, as far as the run reached, in words that follow a past tense: `before 20 s`, `between 5 s and 20 s`, and of a
 * run that ended first `from 5 s on: the run ended before that, at 3 s`, or just there `at 5 s, where the run ended`.
 */
export function windowWords({ from, until }: Window): string {
  if (until < from) return `from ${givenTime(from)} on: the run ended before that, at ${givenTime(until)}`;
  if (until === from) return `at ${givenTime(until)}, where the run ended`;
  return from > 0 ? `between ${givenTime(from)} and ${givenTime(until)}` : `before ${givenTime(until)}`;
}

/** What a reading calls a net's edges: `rose`, or `rose above 3 V` where a limit was given. */
export function edgeWords(high: boolean, limit: number | undefined): string {
  const verb = high ? 'rose' : 'fell';
  if (limit === undefined) return verb;
  return `${verb} ${high ? 'above' : 'below'} ${formatQuantity(limit, 'V', { exact: true })}`;
}

/** How many times, in words: `never`, `only once`, `only 2 times`. */
export function timesWords(count: number): string {
  if (count === 0) return 'never';
  return count === 1 ? 'only once' : `only ${count} times`;
}

/** A sentence that says where something lies outside what was computed. */
export function outsideWords(time: number, reached: number): string {
  return `${givenTime(time)} lies after the end of the run at ${givenTime(reached)}`;
}
