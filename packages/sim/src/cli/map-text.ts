import { type MapResult, quantityText } from '../document/index.ts';
import { spokenName } from '../quantity/index.ts';
import { alignColumns, paragraph } from './columns.ts';

/** Columns and rows that fit on a page of text; more are thinned out evenly. */
const SHOWN_COLUMNS = 9;
const SHOWN_ROWS = 17;

/** Digits of values in the table. */
const DIGITS = 3;

/** A map as a table, the highest y on top, and what was found in words. */
export function mapText({ vary, x, y, z, uneven, unit, contours, sentence }: MapResult): string[] {
  if (z.every((line) => line.every((value) => value === null))) return paragraph(sentence, '  ');
  const columns = thinned(x.length, SHOWN_COLUMNS);
  const rows = thinned(y.length, SHOWN_ROWS).toReversed();
  const table = rows.map((row) => [
    quantityText(y[row] ?? NaN, vary.y.unit, DIGITS),
    ...columns.map((column) => {
      const value = z[row]?.[column] ?? null;
      const mark = uneven?.[row]?.[column] === 1 ? '~' : '';
      return value === null ? '-' : mark + quantityText(value, unit, DIGITS);
    }),
  ]);
  const foot = ['', ...columns.map((column) => quantityText(x[column] ?? NaN, vary.x.unit, DIGITS))];
  const lines = alignColumns(
    [[`${spokenName(vary.y.value)} up, ${spokenName(vary.x.value)} across`, ''], ...table, foot],
    '  ',
  );
  const marked = rows.some((row) => columns.some((column) => uneven?.[row]?.[column] === 1));
  if (marked) lines.push('  ~ not the same from output to output');
  if (columns.length < x.length || rows.length < y.length) {
    lines.push(
      `  ${columns.length} of ${x.length} columns, ${rows.length} of ${y.length} rows; --csv and --json list them all`,
    );
  }
  if (contours.length > 0)
    lines.push(
      '',
      '  Boundaries, found by halving:',
      ...alignColumns(
        contours.map((contour) => boundaryCells(contour, vary, unit)),
        '  ',
      ),
    );
  return [...lines, '', ...paragraph(sentence, '  ')];
}

/** Most boundaries are long lines: where each begins and ends, and how many points it has. */
function boundaryCells(
  { level, between, lines }: MapResult['contours'][number],
  vary: MapResult['vary'],
  unit: MapResult['unit'],
): string[] {
  const name = level === null ? (between ?? []).join(' | ') : quantityText(level, unit, DIGITS);
  const points = lines.reduce((sum, line) => sum + line.length, 0);
  const longest = lines.reduce<MapResult['contours'][number]['lines'][number]>(
    (a, b) => (b.length > a.length ? b : a),
    [],
  );
  const [start, end] = [longest[0], longest.at(-1)].map((point) =>
    point === undefined ? '' : `(${quantityText(point[0], vary.x.unit, 6)}, ${quantityText(point[1], vary.y.unit, 6)})`,
  );
  const count = lines.length === 1 ? `${points} points` : `${lines.length} lines of ${points} points, the longest`;
  return [name, `${count} from ${start} to ${end}`];
}

function thinned(count: number, most: number): number[] {
  if (count <= most) return Array.from({ length: count }, (_, index) => index);
  return Array.from({ length: most }, (_, index) => Math.round((index * (count - 1)) / (most - 1)));
}
