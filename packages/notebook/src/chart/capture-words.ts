import { linearScale } from '@two-thirds/sim/chart';
import type { CaptureEstimate, CaptureExplanation, CaptureResult } from '@two-thirds/sim/document';
import type { BoardChange } from '../edit/board-change.ts';
import { pointText, type PointValue } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';

const DIGITS = 4;
/** Samples that a table lists: of more, every so many. */
const LISTED = 200;

/** What was measured and predicted at a sample, in words: `timing 5.31 V, predicted 5.62 V, 310 mV apart`. */
export function sampleWords({ nets }: CaptureResult, index: number): string {
  return nets
    .map(({ net, measured, predicted }) => {
      const [is, was] = [measured[index] ?? 0, predicted[index] ?? null];
      if (was === null) return `${net} ${volts(is)}, nothing predicted`;
      return `${net} ${volts(is)}, predicted ${volts(was)}, ${volts(was - is)} apart`;
    })
    .join('; ');
}

/** What each explanation comes to, in words. */
export const explainsWords: Readonly<Record<CaptureExplanation['explains'], string>> = {
  full: 'explains all of it',
  part: 'explains a part of it',
  none: 'explains nothing',
};

/** What is to be done to the board, so that an explanation is tried on it; undefined where the fit gave no value. */
export function explanationChange({ kind, part, value, unit, family }: CaptureExplanation): BoardChange | undefined {
  if (family !== null) return [{ name: `${part}.family`, unit: null, value: family }];
  if (value === null) return undefined;
  if (kind === 'probe') return { net: part, resistance: value };
  return [{ name: kind === 'leakage' ? `${part}.leakage` : part, unit, value }];
}

/** The values estimated that the measurement tells, as the board is to be given them. */
export function estimatedValues({ fit }: CaptureResult): PointValue[] {
  return (fit?.estimates ?? []).flatMap(({ name, unit, value, uncertainty }) =>
    uncertainty === null ? [] : [{ name, unit, value }],
  );
}

/** An estimate along a line: what the board states, the value, and between what limits it lies; shares of the width. */
export interface EstimateStrip {
  readonly marked: number | undefined;
  readonly value: number;
  readonly from: number;
  readonly to: number;
}

/** Lays an estimate out; undefined where the measurement does not tell it. */
export function estimateStrip({ value, marked, low, high }: CaptureEstimate): EstimateStrip | undefined {
  if (low === null || high === null) return undefined;
  const [least, most] = [Math.min(low, marked ?? low), Math.max(high, marked ?? high)];
  const room = (most - least) * 0.1;
  const at = linearScale(least - room, most + room, 0, 1);
  return { marked: marked === null ? undefined : at(marked), value: at(value), from: at(low), to: at(high) };
}

/** An estimate as cells of a table: stated, estimated, uncertainty, limits. */
export function estimateCells({ value, unit, marked, uncertainty, low, high }: CaptureEstimate): string[] {
  const text = (each: number | null): string => (each === null ? '–' : pointText(each, unit, DIGITS));
  if (uncertainty === null) return [text(marked), 'not told', '–', '–'];
  return [text(marked), text(value), pointText(uncertainty, unit, 2), `${text(low)} to ${text(high)}`];
}

/** A capture as tables: its edges, its samples, what may stand behind the difference. */
export function captureTables({ times, nets, edges, explanations }: CaptureResult): DataTable[] {
  const every = Math.max(1, Math.ceil(times.length / LISTED));
  const kept = times.flatMap((time, index) => (index % every === 0 ? [{ time, index }] : []));
  const text = (value: number | null | undefined, unit: 's' | 'V'): string =>
    value === null || value === undefined ? '–' : pointText(value, unit, DIGITS);
  return [
    {
      caption: 'Edges',
      columns: ['measured at', 'net', 'goes', 'uncertain by', 'predicted at', 'predicted less measured'],
      rows: edges.map(({ net, to, measured, uncertainty, predicted, residual }) => [
        text(measured, 's'),
        net,
        to,
        text(uncertainty, 's'),
        text(predicted, 's'),
        residual === 0 ? 'none' : text(residual, 's'),
      ]),
    },
    {
      caption: every === 1 ? 'Samples' : `Samples, one of ${every}; the copy as CSV has all that are kept`,
      columns: ['time', ...nets.flatMap(({ net }) => [`${net} measured`, `${net} predicted`])],
      rows: kept.map(({ time, index }) => [
        text(time, 's'),
        ...nets.flatMap(({ measured, predicted }) => [text(measured[index], 'V'), text(predicted[index], 'V')]),
      ]),
    },
    {
      caption: 'What may stand behind the difference, the best first',
      columns: ['place', 'what', 'would have to be', 'as stated', 'it'],
      rows: explanations.map(({ kind, part, value, unit, marked, explains }, index) => [
        String(index + 1),
        `${kind} of ${part}`,
        value === null ? '–' : pointText(value, unit, DIGITS),
        marked === null ? '–' : pointText(marked, unit, DIGITS),
        explainsWords[explains],
      ]),
    },
  ];
}

function volts(value: number): string {
  return pointText(value, 'V', 3);
}
