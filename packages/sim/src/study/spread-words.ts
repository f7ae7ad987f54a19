import { listedText } from '../core/listed-text.ts';
import { percentText, spokenName, type Unit } from '../quantity/index.ts';
import type { SpreadFindings, InsideShare, ReadingSpread, WorstValue } from './spread-findings.ts';
import type { SpreadLaw, SpreadQuantity } from './spread-quantity.ts';
import { QUANTILES } from './spread-statistics.ts';
import { quantityText } from './sweep-words.ts';

/** Digits of a share inside limits. */
const SHARE_DIGITS = 3;
/** Contributions below this share are told together. */
const SMALL = 0.01;
/** From here on what straight lines leave unexplained is told. */
const UNEXPLAINED = 0.05;

/** What the sentences of a spread are about. */
export interface SpreadTold {
  readonly quantities: readonly SpreadQuantity[];
  readonly law: SpreadLaw;
  /** What the readings are called, in the order of the plan. */
  readonly names: readonly string[];
  /** Whether every corner was to be run. */
  readonly allCorners: boolean;
  /** Whether all that was to be run has been. */
  readonly complete: boolean;
}

/** What a spread found, in a few sentences built from its own numbers. */
export function spreadWords(told: SpreadTold, { readings, inside }: SpreadFindings): string {
  const samples = readings[0] === undefined ? 0 : readings[0].statistics.count + readings[0].missing;
  if (samples === 0 && readings.every(({ worst }) => worst.greatest === null)) return 'Nothing is computed yet.';
  const each = readings.flatMap((reading, index) => readingWords(told, told.names[index] ?? '', reading, samples));
  const limited = readings.filter(({ limits }) => limits !== null).length;
  const together =
    inside === null || limited < 2
      ? []
      : [`In ${insideText(inside)} all limits hold together; ${confidenceText(inside)}.`];
  return [drawnWords(told, samples), ...each, ...together].join(' ');
}

function drawnWords({ quantities, law, complete }: SpreadTold, samples: number): string {
  const names = quantities.map(({ name }) => spokenName(name));
  const how =
    law === 'uniform'
      ? 'every value within its limits as likely as any other'
      : 'normally distributed about the middle of their limits and cut off there, three standard deviations away';
  return `${samples} ${samples === 1 ? 'sample' : 'samples'}${complete ? '' : ' so far'} with ${listedText(names)} drawn by chance, ${how}.`;
}

function readingWords(told: SpreadTold, name: string, reading: ReadingSpread, samples: number): string[] {
  const { unit, nominal, statistics, missing, reasons, variance, limits } = reading;
  const text = (value: number | null): string => (value === null ? 'no value' : quantityText(value, unit));
  const quantile = (share: number): string =>
    text(statistics.quantiles[QUANTILES.findIndex((each) => each === share)] ?? null);
  const standing = nominal === null ? '' : ` (${text(nominal)} as the board stands)`;
  const lines: string[] = [];
  if (statistics.count > 1) {
    const spread = `with a standard deviation of ${text(statistics.deviation)}`;
    lines.push(
      statistics.least === statistics.greatest
        ? `${name} is ${text(statistics.mean)} throughout${standing}.`
        : `${name} is ${text(statistics.mean)} on average ${spread}${standing}; nine in ten samples lie between ${quantile(0.05)} and ${quantile(0.95)}.`,
    );
  }
  if (missing > 0)
    lines.push(`${name} has no value in ${missing} of ${samples} samples (${reasons[0]?.reason ?? 'unknown'}).`);
  if (limits !== null && samples > 0)
    lines.push(`In ${insideText(limits)} ${limitText(name, limits, unit)}; ${confidenceText(limits)}.`);
  lines.push(...worstWords(told, name, reading));
  if (variance !== null) lines.push(...shareWords(told, name, variance));
  return lines;
}

function limitText(
  name: string,
  { low, high }: { readonly low: number | null; readonly high: number | null },
  unit: Unit | null,
): string {
  const [from, to] = [low, high].map((value) => (value === null ? '' : quantityText(value, unit)));
  if (low === high) return `${name} is ${from}`;
  if (low === null) return `${name} is at most ${to}`;
  return high === null ? `${name} is at least ${from}` : `${name} is from ${from} to ${to}`;
}

function insideText({ share, inside, of }: InsideShare): string {
  if (inside === 0) return 'none of them';
  return inside === of ? 'all of them' : `${percent(share)} of them`;
}

function confidenceText({ confidence }: InsideShare): string {
  return `of all such boards it is ${percent(confidence[0])} to ${percent(confidence[1])}, with ${percentText(95)} confidence`;
}

function percent(share: number): string {
  // Shares near one are told by what is missing, so that 99.96 % does not become 100 %.
  const digits = share > 0.99 && share < 1 ? 4 : SHARE_DIGITS;
  return percentText(Number((share * 100).toPrecision(digits)));
}

function worstWords(told: SpreadTold, name: string, { unit, worst, cornersMissing }: ReadingSpread): string[] {
  const { least, greatest } = worst;
  if (least === null || greatest === null) return [];
  const range = `${told.complete ? 'Worst case' : 'Furthest so far'}: ${name} from ${quantityText(least.value, unit)} to ${quantityText(greatest.value, unit)}`;
  // Of a search that is not over, where it stands says nothing.
  if (!told.complete) return [`${range}.`];
  const reach = told.allCorners ? '' : '; there are too many corners to run them all, so a search looked for them';
  const missing =
    cornersMissing === 0 ? [] : [`At ${cornersMissing} corners of the limits ${name} has no value at all.`];
  return [
    `${range}${reach}.`,
    ...insideWords(told, name, unit, least, 'least'),
    ...insideWords(told, name, unit, greatest, 'greatest'),
    ...missing,
  ];
}

/** Where an extreme is not at a corner, which one would not have guessed. */
function insideWords(
  { quantities }: SpreadTold,
  name: string,
  unit: Unit | null,
  { found, at, corner }: WorstValue,
  which: string,
): string[] {
  if (found === 'corner') return [];
  const place = quantities.map((quantity, index) => {
    const value = at[index] ?? null;
    return `${spokenName(quantity.name)} ${value === null ? 'none' : quantityText(value, quantity.unit)}`;
  });
  const beside = corner === null ? 'no corner has a value' : `the corners reach ${quantityText(corner, unit)}`;
  const by = found === 'sample' ? ', met only by chance' : '';
  return [`The ${which} ${name} is not where every part is at a limit: it is at ${listedText(place)}${by}; ${beside}.`];
}

function shareWords(
  { quantities }: SpreadTold,
  name: string,
  { shares, rest }: { readonly shares: readonly number[]; readonly rest: number },
): string[] {
  const parts = quantities
    .map((quantity, index) => ({ name: spokenName(quantity.name), share: shares[index] ?? 0 }))
    .sort((a, b) => b.share - a.share);
  const told = parts
    .filter(({ share }) => share >= SMALL)
    .map((part) => `${wholePercent(part.share)} comes from ${part.name}`);
  const small = parts.filter(({ share }) => share < SMALL).map((part) => part.name);
  const lines = told.length === 0 ? [] : [`Of the variance of ${name}, ${listedText(told)}`];
  if (lines.length > 0 && small.length > 0) lines[0] += `, less than ${percentText(1)} from ${listedText(small)}`;
  if (rest >= UNEXPLAINED) {
    lines.push(`${wholePercent(rest)} follows no straight line: curvature, jumps, or parts that act together`);
  }
  return lines.length === 0 ? [] : [`${lines.join('; ')} (by linear regression).`];
}

function wholePercent(share: number): string {
  return percentText(Math.round(share * 100));
}
