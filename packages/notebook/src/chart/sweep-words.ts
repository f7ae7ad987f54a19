import type { SweepStop } from '@two-thirds/sim/chart';
import { errorText, type SweepResult } from '@two-thirds/sim/document';
import { spokenName } from '@two-thirds/sim/quantity';
import { pointText } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';

/** Digits of the place of a jump, which is known far better than it is of use. */
const PLACE_DIGITS = 7;
/** Most rows of a table that people still read. */
const MOST = 400;

/** What is at a place of a sweep, in words: the values there, or what changes. */
export function sweepStopWords(
  result: SweepResult,
  stop: SweepStop,
): { readonly place: string; readonly value: string; readonly more: string } {
  const { vary, series, against, fates, marks } = result;
  const rules = (point: number): string =>
    against
      .map(({ reading, text, values: each, error }) => {
        const unit = series.find(({ name }) => name === reading)?.unit ?? null;
        const off = error[point] ?? null;
        return `${text} ${valueText(each[point] ?? null, unit)}${off === null ? '' : `, ${reading} ${errorText(off)}`}. `;
      })
      .join('');
  const values = (each: readonly (number | null)[]): string =>
    series.map(({ name, unit }, index) => `${name} ${valueText(each[index] ?? null, unit)}`).join(', ');
  const mark = stop.mark === undefined ? undefined : marks[stop.mark];
  if (mark === undefined) {
    return {
      place: `${spokenName(vary.value)} ${pointText(stop.x, vary.unit)}`,
      value: values(stop.values),
      more: `${stop.point === undefined ? '' : rules(stop.point)}${
        fates === null || stop.pattern === null ? '' : `Pulses at ${fates.timer}: ${stop.pattern}.`
      }`.trim(),
    };
  }
  return {
    place: `${spokenName(vary.value)} ${placeText(stop.x, vary.unit)}`,
    value: mark.changes.map(changeText).join('; '),
    more: `Below: ${values(mark.valuesBelow)}. Above: ${values(mark.valuesAbove)}.`,
  };
}

/** The points of a sweep as a table, and its jumps as another. */
export function sweepTables({ vary, x, series, against, fates, marks }: SweepResult): DataTable[] {
  const cut = x.length > MOST ? `; the first ${MOST} of ${x.length} points, all of them in the copy as CSV` : '';
  const points = {
    caption: `Readings over ${spokenName(vary.value)}${cut}`,
    columns: [
      spokenName(vary.value),
      ...series.map(({ name }) => name),
      ...against.flatMap(({ reading, text }) => [text, `error of ${reading}`]),
      ...(fates === null ? [] : [`pulses at ${fates.timer}`]),
    ],
    rows: x.slice(0, MOST).map((at, index) => [
      pointText(at, vary.unit),
      ...series.map(({ values, unit, reasons }) =>
        values[index] === null ? (reasons[String(index)] ?? '–') : valueText(values[index] ?? null, unit),
      ),
      ...against.flatMap(({ reading, values, error }) => {
        const unit = series.find(({ name }) => name === reading)?.unit ?? null;
        const off = error[index] ?? null;
        return [valueText(values[index] ?? null, unit), off === null ? '–' : errorText(off)];
      }),
      ...(fates === null ? [] : [fates.patterns[index] ?? '–']),
    ]),
  };
  if (marks.length === 0) return [points];
  const jumps = {
    caption: 'Places where something jumps, found by halving',
    columns: [spokenName(vary.value), 'what changes'],
    rows: marks.map(({ above, changes }) => [placeText(above, vary.unit), changes.map(changeText).join('; ')]),
  };
  return [points, jumps];
}

function changeText({ what, name, below, above }: SweepResult['marks'][number]['changes'][number]): string {
  const [before, after] = [below ?? 'runs', above ?? 'runs'];
  if (what === 'ratio') return `${name} from ${before} to ${after}`;
  return what === 'fates' ? `pulses at ${name} from “${before}” to “${after}”` : `from “${before}” to “${after}”`;
}

function valueText(value: number | null, unit: SweepResult['vary']['unit']): string {
  return value === null ? '–' : pointText(value, unit);
}

function placeText(value: number, unit: SweepResult['vary']['unit']): string {
  return pointText(value, unit, PLACE_DIGITS);
}
