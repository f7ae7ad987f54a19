import type { Issue } from '../core/errors.ts';
import { preferredBetween, readQuantity, type Series, seriesNames, type Unit } from '../quantity/index.ts';
import { type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { Adjusted } from './choose-schema.ts';
import type { ChooseCell } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { fault, foundData } from './schema-wording.ts';

/** The word for values that are at hand. */
const STOCK = 'stock';

/** What a series covers that states no range: what one buys in assortments; common practice, no source. */
const USUAL: Readonly<Partial<Record<Unit, readonly [from: number, to: number]>>> = {
  Ω: [1e3, 1e6],
  F: [1e-9, 100e-6],
};

/** A value that is chosen, and what it may be. */
export interface Adjustable {
  readonly value: BoardValue;
  /** Ascending, none twice (SI). */
  readonly points: readonly number[];
  /** The series they were taken from, and its range, so that other series can be held against it. */
  readonly series?: { readonly name: Series; readonly from: number; readonly to: number };
}

/** The values a choose cell chooses, or what is wrong with them. */
export function readAdjust(
  cell: ChooseCell,
  board: GoodBoard,
  at: CellPlace,
): { adjustables: Adjustable[]; issues: Issue[] } {
  const adjustables: Adjustable[] = [];
  const issues: Issue[] = [];
  for (const [name, asked] of Object.entries(cell.adjust)) {
    const field = placeInside('adjust', name);
    const found = boardValue(name, board);
    const read = found.ok ? readPoints(found.value, asked, cell.stock) : `${found.message}`;
    if (typeof read !== 'string') adjustables.push(read);
    else {
      const message = `${at.label}: ${field} ${read}`;
      issues.push({ code: 'bad-choice', severity: 'fault', where: `${at.place}.${field}`, field, message });
    }
  }
  for (const [index, entry] of cell.stock.entries()) {
    // A number without a unit would be as many ohms as farads.
    if ((stockValue(entry, 'Ω') === undefined) !== (stockValue(entry, 'F') === undefined)) continue;
    const field = `stock[${index}]`;
    const advice = 'Write values with their unit, for example "10 kΩ" or "100 nF".';
    const rule = 'be a resistance or a capacitance';
    issues.push(
      fault('bad-choice', `${at.place}.${field}`, { label: at.label, field, rule, got: foundData(entry), advice }),
    );
  }
  return { adjustables, issues };
}

/** Values of the stock in a unit (SI), ascending. */
export function stockOf(stock: readonly unknown[], unit: Unit | null): number[] {
  const values = stock.flatMap((entry) => (unit === null ? [] : (stockValue(entry, unit) ?? [])));
  return ascending(values);
}

/** A value of the stock in a unit (SI). A bare number says no unit; as text it would be read in any. */
function stockValue(entry: unknown, unit: Unit): number | undefined {
  const read = typeof entry === 'string' ? readQuantity(entry, unit) : undefined;
  return read?.ok === true ? read.value : undefined;
}

function readPoints(value: BoardValue, asked: Adjusted, stock: readonly unknown[]): Adjustable | string {
  if (asked === STOCK) {
    const points = stockOf(stock, value.unit);
    if (points.length > 0) return { value, points };
    return `must find values in the stock; got none for ${value.name}. Add some to stock, with their unit.`;
  }
  if (typeof asked === 'string') {
    const name = seriesNames.find((each) => each === asked);
    if (name === undefined) {
      return `must be a series (${seriesNames.join(', ')}), "${STOCK}", or a list of values; got "${asked}". Write for example "E12".`;
    }
    const usual = value.unit === null ? undefined : USUAL[value.unit];
    if (usual === undefined) {
      return `must state a range; got only ${asked} for ${value.name}. Write { "series": "${asked}", "from": ..., "to": ... }.`;
    }
    return inSeries(value, name, usual[0], usual[1]);
  }
  if ('series' in asked) {
    const name = seriesNames.find((each) => each === asked.series);
    const [from, to] = [asked.from, asked.to].map((end) => readNumber(end, value.unit));
    if (name === undefined || from === undefined || to === undefined) return 'must be a range of preferred values.';
    if (!from.ok) return `from ${from.message}`;
    if (!to.ok) return `to ${to.message}`;
    if (!(from.value > 0 && to.value >= from.value)) {
      return `must go from a positive value to a larger one; got ${foundData(asked.from)} to ${foundData(asked.to)}. Move the ends.`;
    }
    return inSeries(value, name, from.value, to.value);
  }
  const points: number[] = [];
  for (const entry of asked) {
    const read = readNumber(entry, value.unit);
    if (!read.ok) return read.message;
    points.push(read.value);
  }
  return { value, points: ascending(points) };
}

function inSeries(value: BoardValue, name: Series, from: number, to: number): Adjustable | string {
  const points = preferredBetween(from, to, name);
  if (points.length > 0) return { value, points, series: { name, from, to } };
  return `must reach over at least one value of ${name}; got a range between two of them. Widen it.`;
}

function readNumber(data: unknown, unit: Unit | null): ReturnType<typeof readQuantity> {
  if (unit !== null) return readQuantity(data, unit);
  if (typeof data === 'number' && Number.isFinite(data)) return { ok: true, value: data };
  return { ok: false, message: `must be a plain number; got ${foundData(data)}. Write for example 0.5.` };
}

function ascending(values: readonly number[]): number[] {
  return [...new Set(values)].sort((a, b) => a - b);
}
