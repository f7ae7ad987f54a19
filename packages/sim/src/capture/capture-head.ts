import { fieldsOf, findDialect, isComment, titleOf, unitFactor } from './dialect.ts';

/** Lines looked at. */
const HEAD_LINES = 200;

/** One column of a file of measurements, as far as its first lines tell. */
export interface CaptureColumn {
  /** Counted from 1, as documents name columns. */
  readonly position: number;
  /** As the file has it; empty without titles. */
  readonly title: string;
  /** The title without its unit. */
  readonly name: string;
  /** Whether the file says that it is a time or a voltage; null where it says neither. */
  readonly unit: 's' | 'V' | null;
  /** What stands in its first row of numbers. */
  readonly first: string;
}

/**
 * The columns of a file of measurements, from the text of its beginning; undefined where that has no row of numbers.
 *
 * @param text whole lines; a last line that is cut off does no harm if more than one row stands above it.
 */
export function captureColumns(text: string): readonly CaptureColumn[] | undefined {
  const lines = text
    .split(/\r\n|\n|\r/, 4 * HEAD_LINES)
    .filter((line) => !isComment(line))
    .slice(0, HEAD_LINES);
  const dialect = findDialect(lines);
  if (dialect === undefined) return undefined;
  const { separator, header, units, firstRow } = dialect;
  return fieldsOf(lines[firstRow] ?? '', separator).map((first, index) => {
    const title = header[index] ?? '';
    const { name, unit } = titleOf(title);
    const said = unit ?? unitFactor(units[index] ?? '');
    return { position: index + 1, title, name, unit: said?.unit ?? null, first };
  });
}
