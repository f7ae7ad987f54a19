import type { Unit } from '../quantity/index.ts';
import { pointText } from './point-text.ts';
import { quantityAxis, type QuantityAxis } from './quantity-axis.ts';
import { pixel } from './scale.ts';

/** How a row of a chart stands out: `good` grants what was wanted, `same` cannot be told from another, `harm` must not be built. */
export type RowLook = 'plain' | 'good' | 'same' | 'harm';

/** A table of readings that is to be drawn, a row for each set of parts or fault. Plain data. */
export interface RowTable {
  readonly rows: readonly {
    readonly label: string;
    readonly look: RowLook;
    /** In the order of `readings`, SI units; null where there is none. */
    readonly values: readonly (number | null)[];
  }[];
  readonly readings: readonly {
    readonly name: string;
    readonly unit: Unit | null;
    /** A value that all others are seen against; null for none. */
    readonly mark: number | null;
    /** What is allowed, from least to most; null for none. */
    readonly allowed: readonly [number, number] | null;
  }[];
}

/** A table laid out in pixels. */
export interface RowScene {
  readonly width: number;
  readonly height: number;
  readonly rows: readonly { readonly y: number; readonly label: string; readonly look: RowLook }[];
  readonly panels: readonly RowPanel[];
  /** Rows beyond the most that are drawn. */
  readonly more: number;
  /** Readings for which there is no room. */
  readonly leftOut: readonly string[];
}

/** One reading of all rows. */
export interface RowPanel {
  readonly name: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
  readonly axis: QuantityAxis;
  readonly mark: number | undefined;
  readonly allowed: readonly [number, number] | undefined;
  readonly dots: readonly RowDot[];
}

/** One value; without a place where there is none. */
export interface RowDot {
  readonly x: number | undefined;
  readonly y: number;
  readonly look: RowLook;
  readonly label: string;
  /** Whether the label stands left of the dot. */
  readonly isLeft: boolean;
}

/** Rows and readings that are drawn: what a page of paper holds. */
const MOST_ROWS = 80;
const MOST_READINGS = 4;
const ROW = 19;
const TOP = 30;
const BETWEEN = 18;
/** Room of a letter (pixels), and of the names of rows at most, as a share of the width. */
const LETTER = 6.6;
const NAMES = 0.46;
/** Values over more than this ratio stand on a logarithmic axis. */
const WIDE = 20;
const AIR = 0.05;

/** Lays out a table; undefined where no row has a value. */
export function rowScene({ rows, readings }: RowTable, width: number): RowScene | undefined {
  const shown = rows.slice(0, MOST_ROWS);
  const kept = readings.slice(0, MOST_READINGS);
  if (!shown.some(({ values }) => kept.some((_, index) => typeof values[index] === 'number'))) return undefined;
  const longest = Math.max(...shown.map(({ label }) => label.length));
  const names = Math.min(longest * LETTER + BETWEEN, width * NAMES);
  const letters = Math.floor((names - BETWEEN) / LETTER + 1e-6);
  const room = (width - names - BETWEEN * (kept.length - 1)) / kept.length;
  const yOf = (index: number): number => TOP + ROW * (index + 0.5);
  const foot = TOP + ROW * shown.length + 4;
  return {
    width,
    height: foot + (readings.length > MOST_READINGS ? 62 : 44),
    rows: shown.map(({ label, look }, index) => ({ y: yOf(index), label: shortened(label, letters), look })),
    panels: kept.map((reading, index) => {
      const left = Math.round(names + index * (room + BETWEEN));
      const values = shown.map((row) => row.values[index] ?? null);
      return panel(reading, values, shown, { left, right: Math.round(left + room), top: TOP, foot }, yOf);
    }),
    more: rows.length - shown.length,
    leftOut: readings.slice(MOST_READINGS).map(({ name }) => name),
  };
}

function panel(
  { name, unit, mark, allowed }: RowTable['readings'][number],
  values: readonly (number | null)[],
  rows: RowTable['rows'],
  place: Pick<RowPanel, 'left' | 'right' | 'top' | 'foot'>,
  yOf: (index: number) => number,
): RowPanel {
  const all = [...values, mark, ...(allowed ?? [])].filter((value) => value !== null);
  const [least, most] = all.length === 0 ? [0, 1] : [Math.min(...all), Math.max(...all)];
  const isLogarithmic = least > 0 && most / least > WIDE;
  const air = isLogarithmic ? (most / least) ** AIR : (most - least || Math.abs(most) || 1) * AIR;
  const axis = quantityAxis({
    what: name,
    unit,
    from: isLogarithmic ? least / air : least - air,
    until: isLogarithmic ? most * air : most + air,
    isLogarithmic,
    start: place.left,
    end: place.right,
  });
  const x = (value: number): number => pixel(axis.scale(value));
  return {
    name,
    ...place,
    axis,
    mark: mark === null ? undefined : x(mark),
    allowed: allowed === null ? undefined : [x(allowed[0]), x(allowed[1])],
    dots: values.map((value, index) => {
      const at = value === null ? undefined : x(value);
      const look = rows[index]?.look ?? 'plain';
      const isRun = rows[index]?.values.some((each) => each !== null) === true;
      const label = value !== null ? pointText(value, unit, 4) : look === 'harm' && !isRun ? 'not run' : 'none';
      return { x: at, y: yOf(index), look, label, isLeft: (at ?? 0) + label.length * LETTER + 10 > place.right };
    }),
  };
}

function shortened(label: string, letters: number): string {
  return label.length <= letters ? label : `${label.slice(0, Math.max(1, letters - 1))}…`;
}
