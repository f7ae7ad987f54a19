import type { Chain } from './levels.ts';
import { besideSymbol, textWidth, valueWidth } from './room.ts';
import type { Shape } from './shape.ts';

/** Room for a symbol and the text beside it (pixels). */
const COLUMN_LEAST = 34;
const TEXT_END = 7;
/** From a column to the wire on its left that leaves from the middle of a part (pixels). */
const WIPER_REACH = 20;
/** From one such wire to the next (pixels). */
const WIPER_STEP = 9;
const SYMBOL_HALF = 12;

/** Chains that share one upright line. */
export interface Column {
  readonly x: number;
  readonly chains: readonly Chain[];
  /** Where the wire runs that leaves from the middle of a part, or goes back up from its lower end: one place each. */
  readonly sideWires: ReadonlyMap<Shape, { readonly wiper: number; readonly back: number }>;
}

/** Packs chains into columns: those from higher nets further left, so that lower lines reach the box uncrossed. */
export function placeColumns(
  chains: readonly Chain[],
  order: readonly string[],
  start: number,
): { columns: Column[]; end: number } {
  const level = (net: string | undefined): number => (net === undefined ? order.length : order.indexOf(net));
  const sorted = [...chains].sort((a, b) => level(a.top) - level(b.top) || level(b.bottom) - level(a.bottom) || 0);
  const packed: Chain[][] = [];
  for (const chain of sorted) {
    const free = packed.find((column) =>
      column.every((other) => level(other.bottom) <= level(chain.top) || level(chain.bottom) <= level(other.top)),
    );
    if (free === undefined) packed.push([chain]);
    else free.push(chain);
  }
  let x = start;
  const columns = packed.map((column) => {
    const shapes = column.flatMap((chain) => chain.links.map(({ shape }) => shape));
    const loops = column.flatMap((chain) => (chain.returns ? chain.links.map(({ shape }) => shape) : []));
    const wires = [...shapes.filter((shape) => shape.side !== undefined), ...loops];
    const at = x + SYMBOL_HALF + (wires.length === 0 ? 0 : WIPER_REACH + (wires.length - 1) * WIPER_STEP);
    const place = (index: number): number => at - WIPER_REACH - Math.max(0, index) * WIPER_STEP;
    x = at + textRoom(column);
    const sideWires = new Map(
      shapes.map((shape) => [shape, { wiper: place(wires.indexOf(shape)), back: place(wires.lastIndexOf(shape)) }]),
    );
    return { x: at, chains: column, sideWires };
  });
  return { columns, end: x };
}

function textRoom(column: readonly Chain[]): number {
  const widths = column.flatMap((chain) =>
    chain.links.map(({ shape: { kind, name, label, value } }) => {
      const text = Math.max(textWidth(label ?? name, true), valueWidth(kind, value));
      return besideSymbol(kind) + text + TEXT_END;
    }),
  );
  return Math.max(COLUMN_LEAST, ...widths);
}
