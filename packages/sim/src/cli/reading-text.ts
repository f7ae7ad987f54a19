import { type BoardResult, type ReadingResult, valueText } from '../document/index.ts';
import { alignColumns } from './columns.ts';

/**
 * Readings as a table: name, value, how it was read, what the textbook says of the same number, and why there is none.
 *
 * @param board the board that was read, where it stands on the page: its rules of thumb are put beside the readings.
 */
export function readingText({ values, units, reasons, asked }: ReadingResult, board?: BoardResult): string[] {
  const rows = Object.entries(values).map(([name, value]) => {
    const reason = reasons[name];
    const read = asked[name] ?? '';
    const remark = reason === undefined ? textbookText(read, board) : `: ${reason}`;
    return [name, valueText(value, units[name] ?? null), read + remark];
  });
  return alignColumns(rows, '  ');
}

function textbookText(read: string, board: BoardResult | undefined): string {
  const rule = board?.textbook.find(({ reading }) => bare(reading) === bare(read));
  return rule === undefined || rule.value === null ? '' : `, by the textbook ${valueText(rule.value, rule.unit)}`;
}

/** A reading without the spaces, which do not matter. */
function bare(reading: string): string {
  return reading.replaceAll(/\s+/g, '');
}
