import type { Part } from '../circuit/description.ts';
import { formatQuantity, type Unit } from '../quantity/index.ts';
import { seconds } from './range-words.ts';
import type { FaultRow } from './rows.ts';

/**
 * A fault in a sentence: what was beyond which limit, how often, since when and for how long.
 *
 * @param limit the limit of its events (V or A).
 * @param goesOn whether the run may go on, so that what lasts has no end yet.
 */
export function faultSentence(
  row: Omit<FaultRow, 'sentence'>,
  limit: number,
  part: Part | undefined,
  goesOn = false,
): string {
  const when = goesOn && row.lasting ? sinceWords(row) : timeWords(row);
  return `${excessWords(row, Math.abs(limit), part)}${when}.`;
}

function excessWords({ part: name, what, pin }: Omit<FaultRow, 'sentence'>, limit: number, part?: Part): string {
  const text = (unit: Unit): string => formatQuantity(limit, unit, { digits: 3 });
  switch (what) {
    case 'reverse-voltage':
      return `${name} was the wrong way round by more than ${text('V')}`;
    case 'over-voltage':
      return `${name} was above its rating of ${text('V')}`;
    case 'over-current':
      return `${name} carried more than its limit of ${text('A')}`;
    case 'on-too-long':
      return `${name} was on for longer than the ${formatQuantity(Number(part?.values.longest), 's', { digits: 3 })} that it bears`;
    case 'over-power': {
      const stated = part?.values.rating !== undefined;
      const power = formatQuantity(limit ** 2 / Number(part?.values.resistance), 'W', { digits: 3 });
      return `${name} took more than ${power} at a time (${stated ? 'its rating' : 'used until a rating is stated'})`;
    }
    case 'supply-low':
      return `The supply of ${name} was below the ${text('V')} that it needs`;
    case 'supply-high':
      return `The supply of ${name} was above the ${text('V')} that it bears`;
    case 'output-gives':
      return `The output of ${name} gave more than the ${text('A')} that it is made for`;
    case 'output-takes':
      return `The output of ${name} took more than the ${text('A')} that it is made for`;
    case 'pin-high':
      return `The ${pin ?? 'input'} of ${name} was more than ${text('V')} above its supply`;
    case 'pin-low':
      return `The ${pin ?? 'input'} of ${name} was more than ${text('V')} below its ground`;
  }
}

function sinceWords({ first, count }: Omit<FaultRow, 'sentence'>): string {
  const start = seconds(first);
  return count === 1 ? `, from ${start} on` : `, ${count} times, first at ${start}, and now`;
}

function timeWords({ first, count, longest, lasting }: Omit<FaultRow, 'sentence'>): string {
  const start = seconds(first);
  if (count === 1) return lasting ? `, from ${start} to the end` : `, once, at ${start} for ${seconds(longest)}`;
  return `, ${count} times, first at ${start}, for up to ${seconds(longest)}`;
}
