import { type ReadingResult, valueText } from '../document/index.ts';
import { alignColumns } from './columns.ts';

/** Readings as a table: name, value, how it was read, and why there is none. */
export function readingText({ values, units, reasons, asked }: ReadingResult): string[] {
  const rows = Object.entries(values).map(([name, value]) => {
    const reason = reasons[name];
    const read = asked[name] ?? '';
    return [name, valueText(value, units[name] ?? null), reason === undefined ? read : `${read}: ${reason}`];
  });
  return alignColumns(rows, '  ');
}
