import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { SpreadResult } from './spread-results.ts';

/** A spread as three tables: readings, histograms, and what each value brings about. */
export function spreadCsv(id: string, { parts, readings }: SpreadResult): CsvFile[] {
  const shares = readings[0]?.quantiles.map(({ share }) => `q${share}`) ?? [];
  const header = ['reading', 'unit', 'now', 'count', 'missing', 'mean', 'deviation', 'least', 'greatest'];
  const rows = readings.map((reading) => [
    reading.name,
    reading.unit ?? '',
    ...[reading.now, reading.count, reading.missing, reading.mean, reading.deviation].map(cellOf),
    ...[reading.least, reading.greatest].map(cellOf),
    ...shares.map((_, index) => cellOf(reading.quantiles[index]?.value ?? null)),
    ...[reading.worst.least?.value ?? null, reading.worst.greatest?.value ?? null].map(cellOf),
    ...[reading.limits?.low ?? null, reading.limits?.high ?? null, reading.limits?.share ?? null].map(cellOf),
    ...[reading.limits?.confidence[0] ?? null, reading.limits?.confidence[1] ?? null].map(cellOf),
  ]);
  const tail = ['worst_least', 'worst_greatest', 'limit_low', 'limit_high', 'inside', 'inside_low', 'inside_high'];
  const bins = readings.flatMap((reading) =>
    reading.bins.map(({ from, to, count }) => [reading.name, from, to, count]),
  );
  const causes = parts.map(({ value, unit, now, least, greatest, source }, index) => [
    value,
    unit ?? '',
    ...[now, least, greatest].map(cellOf),
    source,
    ...readings.map(({ variance }) => cellOf(variance?.shares[index] ?? null)),
  ]);
  const ofParts = [
    'value',
    'unit',
    'now',
    'least',
    'greatest',
    'source',
    ...readings.map(({ name }) => `share_${name}`),
  ];
  return [
    { name: `${id}.csv`, text: csvText([...header, ...shares, ...tail], rows) },
    { name: `${id}.bins.csv`, text: csvText(['reading', 'from', 'to', 'count'], bins) },
    { name: `${id}.parts.csv`, text: csvText(ofParts, causes) },
  ];
}

function cellOf(value: number | null): number | string {
  return value ?? '';
}
