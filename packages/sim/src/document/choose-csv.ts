import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { ChooseResult, ChosenSetResult } from './choose-results.ts';

/** The ranked sets of a choice as one table, and the best of each series as another. */
export function chooseCsv(id: string, { adjust, want, sets, precision }: ChooseResult): CsvFile[] {
  const heading = (name: string, unit: string | null): string => (unit === null ? name : `${name}_${unit}`);
  const header = [
    ...adjust.map(({ value, unit }) => heading(value, unit)),
    ...want.map(({ name, unit }) => heading(name, unit)),
    ...want.map(({ name }) => `off_${name}`),
    'error',
    'granted',
    'in_stock',
  ];
  const row = ({ values, readings, off, error, granted, inStock }: ChosenSetResult): (string | number)[] => [
    ...values,
    ...readings,
    ...off.map((each) => each ?? ''),
    error,
    granted ? 'yes' : 'no',
    inStock === null ? '' : inStock ? 'yes' : 'no',
  ];
  const best = precision.flatMap(({ series, best: set }) => (set === null ? [] : [[series, ...row(set)]]));
  return [
    { name: `${id}.csv`, text: csvText(header, sets.map(row)) },
    { name: `${id}.precision.csv`, text: csvText(['series', ...header], best) },
  ];
}
