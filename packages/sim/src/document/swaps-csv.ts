import { csvText } from '../trace/csv.ts';
import type { CsvFile } from './cell-csv.ts';
import type { SwapsResult } from './swaps-result.ts';

/** One row for each combination: what is plugged in, the readings, what is to be said, and what it cannot be told from. */
export function swapsCsv(id: string, { places, readings, rows }: SwapsResult): CsvFile[] {
  const header = [
    'combination',
    ...places.map(({ name }) => name),
    ...readings.map(({ name, unit }) => (unit === null ? name : `${name}_${unit}`)),
    'flags',
    'same_as',
    'remedy',
    'words',
  ];
  const lines = rows.map(({ parts, values, flags, remedy, sameAs, failed }, index) => [
    index + 1,
    ...parts,
    ...values.map((value) => value ?? ''),
    [...new Set(flags.map(({ what }) => what))].join(' '),
    sameAs === null ? '' : sameAs + 1,
    remedy ?? '',
    [...flags.map(({ sentence }) => sentence), ...(failed === null ? [] : [failed])].join(' '),
  ]);
  return [{ name: `${id}.csv`, text: csvText(header, lines) }];
}
