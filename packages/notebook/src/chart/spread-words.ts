import { percentText } from '@two-thirds/sim/quantity';
import type { SpreadReading, SpreadResult } from '@two-thirds/sim/document';
import { pointText } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';

const DIGITS = 4;

/** A spread as tables: the readings, what their variance comes from, the values that were varied. */
export function spreadTables(result: SpreadResult): DataTable[] {
  const { readings, parts, samples } = result;
  const shares = readings.filter(({ variance }) => variance !== null);
  return [
    {
      caption: `Readings of ${samples} samples`,
      columns: ['reading', 'as it stands', 'mean', 'deviation', 'least found', 'greatest found', 'inside the limits'],
      rows: readings.map((reading) => [
        reading.name,
        textOf(reading.now, reading),
        textOf(reading.mean, reading),
        textOf(reading.deviation, reading),
        textOf(reading.worst.least?.value ?? null, reading),
        textOf(reading.worst.greatest?.value ?? null, reading),
        insideWords(reading),
      ]),
    },
    {
      caption: 'How much of the variance follows each value',
      columns: ['value', ...shares.map(({ name }) => name)],
      rows: [
        ...parts.map(({ value }, index) => [
          value,
          ...shares.map(({ variance }) => percent(variance?.shares[index] ?? 0)),
        ]),
        ['no straight line', ...shares.map(({ variance }) => percent(variance?.rest ?? 0))],
      ],
    },
    {
      caption: 'Values that were varied',
      columns: ['value', 'as it stands', 'least', 'greatest', 'where the range comes from'],
      rows: parts.map(({ value, unit, now, least, greatest, source }) => [
        value,
        ...[now, least, greatest].map((each) => (each === null ? 'none' : pointText(each, unit, DIGITS))),
        source,
      ]),
    },
  ];
}

/** How many samples of a reading lie within its limits, in words; empty where there are none. */
export function insideWords({ limits }: SpreadReading): string {
  if (limits === null) return '';
  const [low, high] = limits.confidence;
  return `${percent(limits.share)} (of all boards ${percent(low)} to ${percent(high)})`;
}

/** A share as per cent. */
export function percent(share: number): string {
  return percentText(Number((share * 100).toPrecision(3)));
}

function textOf(value: number | null, { unit }: SpreadReading): string {
  return value === null ? '–' : pointText(value, unit, DIGITS);
}
