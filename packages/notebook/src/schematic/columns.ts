import type { Chain } from './levels.ts';

/** Room for a symbol and the text beside it (pixels). */
const COLUMN_LEAST = 34;
const TEXT_START = 25;
/** Roughly one character of the text beside a symbol (pixels). */
export const CHARACTER = 6.6;
/** From a column to the wire that leaves from the middle of a part on its left (pixels). */
export const WIPER_REACH = 20;
const SYMBOL_HALF = 12;

/** Chains that share one upright line. */
export interface Column {
  readonly x: number;
  readonly chains: readonly Chain[];
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
    const wiper = column.some((chain) => chain.links.some(({ shape }) => shape.side !== undefined));
    const at = x + SYMBOL_HALF + (wiper ? WIPER_REACH : 0);
    x = at + textRoom(column);
    return { x: at, chains: column };
  });
  return { columns, end: x };
}

function textRoom(column: readonly Chain[]): number {
  const texts = column.flatMap((chain) => chain.links.flatMap(({ shape }) => [shape.name, shape.value]));
  return Math.max(COLUMN_LEAST, TEXT_START + CHARACTER * Math.max(...texts.map((text) => text.length)));
}
