import type { MapResult } from '@two-thirds/sim/document';
import { spokenName } from '@two-thirds/sim/quantity';
import { pointText } from '../edit/load-point.ts';
import type { DataTable } from './data-table.ts';
import { hasSamePoints } from './former-boundaries.ts';

/** Most rows and columns of a table that people still read. */
const MOST = 120;

/** What is at a point of a map: where it is, its value, and what more there is to say. */
export function mapPointWords(
  result: MapResult,
  column: number,
  row: number,
): { readonly place: string; readonly value: string; readonly more: string } {
  const { vary, x, y, z, uneven, unit, name, share } = result;
  const place = `${spokenName(vary.x.value)} ${pointText(x[column] ?? NaN, vary.x.unit)}, ${spokenName(vary.y.value)} ${pointText(y[row] ?? NaN, vary.y.unit)}`;
  const value = z[row]?.[column] ?? null;
  if (value === null) return { place, value: share < 1 ? 'not computed yet' : `no ${name}`, more: '' };
  const isUneven = uneven?.[row]?.[column] === 1;
  if (!isUneven) return { place, value: `${name} ${pointText(value, unit)}`, more: '' };
  return {
    place,
    value: `${name} ${pointText(value, unit)} on average`,
    more: 'Not the same from output to output.',
  };
}

/**
 * The points of a map as a table, the highest row first as on the map.
 *
 * @param former what it had before the last change: points that are another now say what they were.
 */
export function mapTable(result: MapResult, former?: MapResult): DataTable[] {
  const { vary, x, y, name } = result;
  const before = former !== undefined && hasSamePoints(result, former) ? former : undefined;
  const columns = x.slice(0, MOST);
  const rows = y.slice(0, MOST).map((at, row) => [
    pointText(at, vary.y.unit),
    ...columns.map((_, column) => {
      const is = entry(result, row, column);
      const was = before === undefined ? is : entry(before, row, column);
      return is === was ? is : `${is}, was ${was}`;
    }),
  ]);
  const isCut = x.length > MOST || y.length > MOST;
  return [
    {
      caption: `${name}: ${spokenName(vary.y.value)} down the rows, ${spokenName(vary.x.value)} along the columns${isCut ? `; the first ${MOST} of each, all of them in the copy as CSV` : ''}`,
      columns: [spokenName(vary.y.value), ...columns.map((at) => pointText(at, vary.x.unit))],
      rows: rows.toReversed(),
    },
  ];
}

/** What a table says of a point. */
function entry({ z, uneven, unit }: MapResult, row: number, column: number): string {
  const value = z[row]?.[column] ?? null;
  if (value === null) return '–';
  return `${pointText(value, unit)}${uneven?.[row]?.[column] === 1 ? ' on average' : ''}`;
}
