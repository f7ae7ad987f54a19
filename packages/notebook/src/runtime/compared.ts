import {
  amountText,
  type CellResult,
  type FatesResult,
  type FaultyResult,
  type ReadingResult,
  type StudyResult,
  valueText,
} from '@two-thirds/sim/document';
import { comparedCaptures } from './compared-captures.ts';
import { comparedMaps } from './compared-maps.ts';
import { studyEntries } from './compared-studies.ts';
import { comparedSymptoms } from './compared-symptoms.ts';
import { type Comparison, toldEntries } from './comparison.ts';
import { twoTexts } from './two-texts.ts';

/** Kinds of cells whose results are told against those without what is asked. */
export const COMPARED_KINDS: ReadonlySet<string> = new Set(['reading', 'formula', 'fates']);

/** What is different in a result of a cell against one before; undefined where the two cannot be compared. */
export function compared(id: string, now: CellResult, before: CellResult): Comparison | undefined {
  if (!now.ok || !before.ok) return undefined;
  if (now.kind === 'reading' && before.kind === 'reading') return comparedReadings(now, before);
  if (now.kind === 'fates' && before.kind === 'fates') return comparedFates(now, before);
  if (isStudy(now) && isStudy(before)) return comparedStudies(now, before);
  if (now.kind !== 'formula' || before.kind !== 'formula') return undefined;
  const isOneUnit = now.unit === before.unit && now.unitText === before.unitText;
  const [is, was] =
    isOneUnit && now.unit !== null
      ? twoTexts(now.value, before.value, now.unit)
      : [amountText(now), amountText(before)];
  return toldEntries([[id, is, was]]);
}

/** Whether two comparisons differ: they are made anew at every change of the page. */
export function isOtherComparison(one: Comparison | undefined, other: Comparison | undefined): boolean {
  return JSON.stringify(one) !== JSON.stringify(other);
}

/** A comparison as a sentence without its beginning: `width 351 ms, was 338 ms; ratio as before`. */
export function comparisonText({ changed, same }: Comparison): string {
  if (changed.length === 0) return `${same.join(', ')} as before`;
  return [...changed, ...(same.length === 0 ? [] : [`${same.join(', ')} as before`])].join('; ');
}

function comparedReadings(now: ReadingResult, before: ReadingResult): Comparison {
  return toldEntries(
    Object.keys(now.values)
      .filter((name) => Object.hasOwn(before.values, name))
      .map((name): [string, string, string] => {
        const [is, was] = [now.values[name] ?? null, before.values[name] ?? null];
        const unit = now.units[name] ?? null;
        if (isNumber(is) && isNumber(was)) return [name, ...twoTexts(is, was, unit)];
        const write = (value: typeof is): string =>
          Array.isArray(value) ? `(${valueText(value, unit)})` : valueText(value, unit);
        const [isText, wasText] = [write(is), write(was)];
        // Lists are told by their first entries: the rest may differ.
        const isOther = isText === wasText && JSON.stringify(is) !== JSON.stringify(was);
        return [name, isOther ? `${isText}, not in all entries` : isText, wasText];
      }),
  );
}

function comparedStudies(now: StudyResult, before: StudyResult): Comparison | undefined {
  if (now.kind === 'map' && before.kind === 'map') return comparedMaps(now, before);
  if (now.kind === 'symptoms' && before.kind === 'symptoms') return comparedSymptoms(now, before);
  if (now.kind === 'capture' && before.kind === 'capture') return comparedCaptures(now, before);
  const entries = studyEntries(now, before);
  return entries === undefined ? undefined : toldEntries(entries);
}

function isStudy(result: Exclude<CellResult, FaultyResult>): result is StudyResult {
  return 'share' in result;
}

function comparedFates(now: FatesResult, before: FatesResult): Comparison {
  const fates = Object.keys(now.counts) as (keyof FatesResult['counts'])[];
  const counted = fates.filter((fate) => now.counts[fate] > 0 || before.counts[fate] > 0);
  return toldEntries(
    counted.map((fate): [string, string, string] => [fate, String(now.counts[fate]), String(before.counts[fate])]),
  );
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number';
}
