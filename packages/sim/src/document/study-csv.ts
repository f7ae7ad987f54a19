import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { SweepResult, VariedValue } from './study-results.ts';

/** The points of a sweep as one table, and its marks as another, one row for each thing that changes. */
export function sweepCsv(id: string, { vary, x, series, fates, marks }: SweepResult): CsvFile[] {
  const header = [heading(vary.value, vary.unit), ...series.map(({ name, unit }) => heading(name, unit))];
  const rows = x.map((at, index) => [
    at,
    ...series.map(({ values }) => values[index] ?? ''),
    ...(fates === null ? [] : [fates.patterns[index] ?? '']),
  ]);
  const changes = marks.flatMap(({ below, above, changes: all }) =>
    all.map((change) => [below, above, change.what, change.name, change.below ?? '', change.above ?? '']),
  );
  const brackets = [heading('below', vary.unit), heading('above', vary.unit)];
  return [
    { name: `${id}.csv`, text: csvText(fates === null ? header : [...header, `fates_${fates.timer}`], rows) },
    { name: `${id}.marks.csv`, text: csvText([...brackets, 'what', 'name', 'value_below', 'value_above'], changes) },
  ];
}

function heading(name: string, unit: VariedValue['unit']): string {
  return unit === null ? name : `${name}_${unit}`;
}
