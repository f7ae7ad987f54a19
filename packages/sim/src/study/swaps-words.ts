import { percentText, spokenName, type Unit } from '../quantity/index.ts';
import { isHarm, isInside, type Remark, type RemarkCode } from './remark.ts';
import type { SwapPlace } from './swaps.ts';
import { quantityText } from './sweep-words.ts';

/** What is said of a combination. */
interface Told {
  readonly parts: readonly string[];
  readonly values: readonly (number | null)[];
  readonly flags: readonly Remark[];
  readonly remedy: string | null;
  readonly sameAs: number | null;
  readonly failed: string | null;
}

/** What each remark but those of parts beyond their ratings says of several combinations. */
const PHRASES: readonly (readonly [code: RemarkCode, one: string, many: string])[] = [
  ['never-starts', 'never starts', 'never start'],
  ['never-ends', 'never ends', 'never end'],
  ['unfinished', 'is not over within the window', 'are not over within the window'],
  ['too-fast', 'flashes too fast to see', 'flash too fast to see'],
  ['flashing', 'flashes so that it can set off fits', 'flash so that they can set off fits'],
  ['inaudible', 'cannot be heard', 'cannot be heard'],
];

/** What all combinations of a kit do, in a few sentences built from their own numbers. */
export function swapsWords(
  places: readonly SwapPlace[],
  readings: readonly { readonly name: string; readonly unit: Unit | null }[],
  rows: readonly Told[],
  { count, alike }: { readonly count: number; readonly alike: number },
): string {
  if (rows.length === 0) return 'Nothing is computed yet.';
  const product = places.map(({ name, choices }) => `${choices.length} of ${spokenName(name)}`).join(', ');
  const some = rows.length === count ? '' : ` ${rows.length} of them are computed so far.`;
  const with_ = ({ parts }: Told): string =>
    places.map(({ name }, place) => `${spokenName(name)} ${parts[place] ?? ''}`).join(', ');
  const safe = rows.filter(({ flags, failed }) => failed === null && isInside(flags));
  const ranges = readings.flatMap(({ name, unit }, index) => {
    const seen = safe.flatMap((row) => {
      const value = row.values[index];
      return typeof value === 'number' ? [{ row, value }] : [];
    });
    const [first] = seen;
    if (first === undefined) return [`${name} has no value in any of them`];
    const least = seen.reduce((a, b) => (b.value < a.value ? b : a));
    const most = seen.reduce((a, b) => (b.value > a.value ? b : a));
    if (least.value === most.value) return [`${name} is ${quantityText(least.value, unit)} in each that has it`];
    return [
      `${name} goes from ${quantityText(least.value, unit)} (${with_(least.row)}) to ${quantityText(most.value, unit)} (${with_(most.row)})`,
    ];
  });
  const kept = `${countText(safe.length)} ${safe.length === 1 ? 'keeps' : 'keep'} every part inside its ratings`;
  const first = safe.length === 0 ? `None keeps every part inside its ratings.` : `${kept}: ${ranges.join('; ')}.`;
  const flagged = PHRASES.flatMap(([code, one, many]) => {
    const met = safe.filter(({ flags }) => flags.some(({ what }) => what === code));
    const [example] = met;
    if (example === undefined) return [];
    return [
      `${countText(met.length)} ${met.length === 1 ? one : many} (${met.length === 1 ? '' : 'first '}${with_(example)}).`,
    ];
  });
  const same = safe.filter(({ sameAs }) => sameAs !== null).length;
  const share = percentText(Number((100 * alike).toPrecision(3)));
  const twins =
    same === 0
      ? []
      : [`${countText(same)} cannot be told from an earlier one by these readings: all are within ${share} of it.`];
  const failed = rows.filter((row) => row.failed !== null);
  const stopped =
    failed[0] === undefined
      ? []
      : [
          `${countText(failed.length)} ${failed.length === 1 ? 'has' : 'have'} no run (${with_(failed[0])}): ${failed[0].failed ?? ''}`,
        ];
  return [
    `${countText(count)} ${count === 1 ? 'combination' : 'combinations'}: ${product}.${some}`,
    first,
    ...flagged,
    ...twins,
    ...harmWords(rows, with_),
    ...lowWords(rows, with_),
    ...stopped,
  ].join(' ');
}

function harmWords(rows: readonly Told[], with_: (row: Told) => string): string[] {
  const harmful = rows.filter(({ flags }) => flags.some(isHarm));
  if (harmful.length === 0) return [];
  const kinds = new Set(harmful.map(({ flags }) => flags.find(isHarm)?.sentence.split(/[:,]/)[0]));
  const [example] = harmful;
  const remedy = example?.remedy ?? 'No single part would prevent it.';
  const sentence = example?.flags.find(isHarm)?.sentence ?? '';
  const more = kinds.size > 1 ? ` (${kinds.size} kinds of harm; each is named with its combination)` : '';
  return [
    `${countText(harmful.length)} must not be built${more}: ${example === undefined ? '' : with_(example)}. ${sentence} ${remedy}`,
  ];
}

/** Combinations that only give a timer too little supply. */
function lowWords(rows: readonly Told[], with_: (row: Told) => string): string[] {
  const low = rows.filter(({ flags }) => !isInside(flags) && !flags.some(isHarm));
  const [first] = low;
  if (first === undefined) return [];
  const { sentence = '' } = first.flags.find(({ what }) => what === 'supply-low') ?? {};
  return [
    `${countText(low.length)} ${low.length === 1 ? 'leaves' : 'leave'} a timer with less supply than it needs: ${with_(first)}. ${sentence} ${first.remedy ?? 'No single part would prevent it.'}`,
  ];
}

function countText(count: number): string {
  return String(count);
}
