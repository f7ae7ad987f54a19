import { nearestName } from '../core/nearest-name.ts';
import { quotedText } from '../core/found-text.ts';
import type { CaptureFault } from './capture.ts';
import { type Dialect, titleOf, unitFactor, type UnitFactor } from './dialect.ts';

/** A column as a document names it: by title or by position from 1, and its unit where the file does not say it. */
export interface ColumnWish {
  readonly column: string | number;
  readonly unit?: string;
}

/** The columns a document wants; those it does not name are found by their titles. */
export interface ColumnWishes {
  readonly time?: ColumnWish;
  readonly nets?: ReadonlyMap<string, ColumnWish>;
  /** Names of nets that titles are held against where `nets` is not given. */
  readonly known: readonly string[];
}

/** Where a quantity stands in a row, and what one of its unit is in SI. */
export interface FoundColumn {
  readonly position: number;
  readonly factor: number;
}

/** The columns of a file. */
export interface FoundColumns {
  readonly time: FoundColumn;
  readonly nets: ReadonlyMap<string, FoundColumn>;
}

/** Finds the columns wanted, or says what is missing. */
export function findColumns(wishes: ColumnWishes, dialect: Dialect): FoundColumns | { readonly fault: CaptureFault } {
  const titles = dialect.header.map(titleOf);
  const refuse = (rule: string, got: string, advice: string): { fault: CaptureFault } => ({
    fault: { field: 'columns', rule, got, advice },
  });
  const names = titles.map(({ name }) => quotedText(name)).join(', ') || 'no titles';
  const positionOf = ({ column }: ColumnWish): number => {
    if (typeof column === 'number') return column - 1;
    const wanted = column.trim();
    const byTitle = dialect.header.indexOf(wanted);
    return byTitle >= 0 ? byTitle : titles.findIndex(({ name }) => name.toLowerCase() === wanted.toLowerCase());
  };
  const find = (what: string, wish: ColumnWish, unit: 's' | 'V'): FoundColumn | { fault: CaptureFault } => {
    const position = positionOf(wish);
    if (position < 0) {
      const near = nearestName(
        String(wish.column),
        titles.map(({ name }) => name),
      );
      const advice =
        near === undefined ? 'Give its title, or its position from 1.' : `Did you mean ${quotedText(near)}?`;
      return refuse(`name a column of the file for ${what} (${names})`, quotedText(String(wish.column)), advice);
    }
    const said = saidUnit(wish, titles[position]?.unit, dialect.units[position]);
    if (said === undefined) {
      const example = unit === 's' ? 'ms' : 'V';
      const advice = `Write for example { "column": ${JSON.stringify(wish.column)}, "unit": "${example}" }.`;
      return refuse(`say the unit of ${what}, which the file does not`, quotedText(String(wish.column)), advice);
    }
    if (said.unit !== unit) {
      const kind = unit === 's' ? 'a time, in s, ms or µs' : 'a voltage, in V or mV';
      return refuse(`give ${what} as ${kind}`, said.unit === 's' ? 'a time' : 'a voltage', 'Name another column.');
    }
    return { position, factor: said.factor };
  };
  const timeWish = wishes.time ?? timeColumn(titles);
  if (timeWish === undefined) {
    const advice = 'Write for example { "time": { "column": 1, "unit": "s" }, "out": { "column": 2, "unit": "V" } }.';
    return refuse('say which column is the time', names, advice);
  }
  const time = find('the time', timeWish, 's');
  if ('fault' in time) return time;
  const wanted = wishes.nets ?? netColumns(titles, wishes.known);
  if (wanted.size === 0) {
    const advice = 'Name a column for each net that was measured, for example { "out": "CH1" }.';
    return refuse('say which column was measured at which net', names, advice);
  }
  const nets = new Map<string, FoundColumn>();
  for (const [net, wish] of wanted) {
    const found = find(net, wish, 'V');
    if ('fault' in found) return found;
    nets.set(net, found);
  }
  return { time, nets };
}

function saidUnit(
  wish: ColumnWish,
  inTitle: UnitFactor | undefined,
  inRow: string | undefined,
): UnitFactor | undefined {
  return wish.unit === undefined ? (inTitle ?? unitFactor(inRow ?? '')) : unitFactor(wish.unit);
}

/** Without a word from the document: the column called time or t, else the first with a unit of time. */
function timeColumn(titles: readonly ReturnType<typeof titleOf>[]): ColumnWish | undefined {
  const named = titles.findIndex(({ name }) => /^(?:time|t)$/i.test(name));
  const position = named >= 0 ? named : titles.findIndex(({ unit }) => unit?.unit === 's');
  return position < 0 ? undefined : { column: position + 1 };
}

function netColumns(titles: readonly ReturnType<typeof titleOf>[], known: readonly string[]): Map<string, ColumnWish> {
  return new Map(
    titles.flatMap(({ name }, index) => (known.includes(name) ? [[name, { column: index + 1 }] as const] : [])),
  );
}
