import type { Column } from './columns.ts';
import { SYMBOL_REACH } from './drawing.ts';
import type { Ink } from './ink.ts';
import { type Chain, GROUND } from './levels.ts';
import type { TimerShape } from './shape.ts';
import { hangingEnd, pinsOn, type Side } from './side.ts';

/** What a side is drawn against. */
export interface SideFrame {
  readonly timer: TimerShape | undefined;
  readonly rail: string | undefined;
  /** Height of the ground line. */
  readonly foot: number;
  /** Edge of the timer's box on this side. */
  readonly boxEdge: number;
  readonly isLeft: boolean;
}

/** Length of the stub of a pin to which nothing else is joined (pixels). */
const STUB = 40;
/** A level line this near a symbol passes through it or its text (pixels). */
const BESIDE = 24;
/** Upright room that a symbol needs between two level lines that cross its wire. */
const SYMBOL_ROOM = 40;
/** Symbols without such room keep at least this far from a crossing line, so that no wire of theirs lies on it. */
const NEAREST_LINE = 7.3;

/**
 * Draws the parts on one side of the box, and the level lines of its nets.
 *
 * @returns for the supply net and ground, whose lines run over both sides, where wires meet them.
 */
export function drawSide(ink: Ink, columns: readonly Column[], side: Side, frame: SideFrame): Map<string, number[]> {
  const joints = jointsOf(columns);
  const lines = levelLines(side, joints, frame);
  const height = (net: string): number => (net === GROUND ? frame.foot : (side.y.get(net) ?? frame.foot));
  for (const column of columns) {
    const { x } = column;
    for (const chain of column.chains) {
      const start = height(chain.top);
      const end = chain.bottom === undefined ? hangingEnd(chain, start) : height(chain.bottom);
      const crossed = lines.filter(
        ({ y, from, until }) => y > start && y < end && x > from - BESIDE && x < until + BESIDE,
      );
      const heights = symbolHeights(
        start,
        end,
        chain.links.length,
        crossed.map(({ y }) => y),
      );
      drawChain(ink, chain, column, { start, end, heights, heightOf: height });
    }
  }
  for (const { net, y, from, until, places, isPinned } of lines) {
    ink.wires.push({ net, path: `M${from} ${y}H${until}` });
    ink.dots.push(...junctions(places, from, until).map((x) => ({ net, x, y })));
    const x = frame.isLeft ? (isPinned ? frame.boxEdge - 18 : until) : frame.boxEdge + 8;
    const anchor = isPinned && frame.isLeft ? 'end' : 'start';
    ink.names.push({ net, x, y: y - 6, anchor, voltage: { x, y: y + 14, anchor } });
  }
  return joints;
}

/** Where upright wires meet each net. */
function jointsOf(columns: readonly Column[]): Map<string, number[]> {
  const joints = new Map<string, number[]>();
  const join = (net: string | undefined, x: number): void => {
    if (net !== undefined) joints.set(net, [...(joints.get(net) ?? []), x]);
  };
  for (const { x, chains, sideWires } of columns) {
    for (const { top, bottom, links, returns } of chains) {
      join(top, x);
      join(bottom, x);
      for (const { shape } of links) {
        join(shape.side, sideWires.get(shape)?.wiper ?? x);
        if (returns) join(top, sideWires.get(shape)?.back ?? x);
      }
    }
  }
  return joints;
}

interface LevelLine {
  readonly net: string;
  readonly y: number;
  readonly from: number;
  readonly until: number;
  readonly places: readonly number[];
  readonly isPinned: boolean;
}

/** The lines of all nets but supply and ground. */
function levelLines(
  side: Side,
  joints: ReadonlyMap<string, number[]>,
  { timer, rail, boxEdge }: SideFrame,
): LevelLine[] {
  return [...side.y].flatMap(([net, y]) => {
    if (net === rail || net === GROUND) return [];
    const isPinned = pinsOn(timer, net).length > 0;
    const places = joints.get(net) ?? [];
    const stub = isPinned && places.length === 0 ? [boxEdge - STUB] : [];
    const ends = [...places, ...(isPinned ? [boxEdge] : []), ...stub];
    if (ends.length === 0) return [];
    return [{ net, y, from: Math.min(...ends), until: Math.max(...ends), places, isPinned }];
  });
}

/** Where three or more wires meet on a level line. An end of the line where one part turns off is a plain bend. */
function junctions(places: readonly number[], from: number, until: number): number[] {
  return [...new Set(places)].filter(
    (x) => places.filter((each) => each === x).length + (x > from ? 1 : 0) + (x < until ? 1 : 0) >= 3,
  );
}

/** Heights for the symbols of a chain: between the level lines that cross it, where there is room, else evenly. */
function symbolHeights(start: number, end: number, count: number, crossed: readonly number[]): number[] {
  const borders = [start, ...[...crossed].sort((a, b) => a - b), end];
  const gaps = borders
    .slice(1)
    .map((until, index) => ({ from: borders[index] ?? start, size: until - (borders[index] ?? start), count: 0 }));
  for (let placed = 0; placed < count; placed += 1) {
    const roomiest = gaps.reduce((best, gap) =>
      gap.size / (gap.count + 1) > best.size / (best.count + 1) ? gap : best,
    );
    roomiest.count += 1;
  }
  if (gaps.every((gap) => gap.size >= gap.count * SYMBOL_ROOM)) {
    return gaps.flatMap(({ from, size, count: inside }) =>
      Array.from({ length: inside }, (_, index) => from + (size * (index + 0.5)) / inside),
    );
  }
  return Array.from({ length: count }, (_, index) => {
    const y = start + ((end - start) * (index + 0.5)) / count;
    return crossed.some((each) => Math.abs(each - y) < NEAREST_LINE) ? y + NEAREST_LINE : y;
  });
}

interface ChainPlace {
  readonly start: number;
  readonly end: number;
  readonly heights: readonly number[];
  readonly heightOf: (net: string) => number;
}

function drawChain(ink: Ink, chain: Chain, { x, sideWires }: Column, place: ChainPlace): void {
  const { start, end, heights, heightOf } = place;
  let from = start;
  chain.links.forEach(({ shape, turned }, index) => {
    const y = heights[index] ?? start;
    const { name, label, kind, title, value, polarised, side } = shape;
    const above = chain.between[index - 1] ?? chain.top;
    const wires = sideWires.get(shape) ?? { wiper: x, back: x };
    ink.wires.push({ net: above, path: `M${x} ${from}V${y - SYMBOL_REACH}` });
    from = y + SYMBOL_REACH;
    ink.symbols.push({
      part: name,
      ...(label === undefined ? {} : { label }),
      kind,
      title,
      value,
      x,
      y,
      first: turned ? 'down' : 'up',
      textOn: 'right',
      polarised,
    });
    if (side !== undefined) ink.wires.push({ net: side, path: `M${x - 8} ${y}H${wires.wiper}V${heightOf(side)}` });
    if (chain.returns) ink.wires.push({ net: chain.top, path: `M${x} ${from}V${end}H${wires.back}V${start}` });
  });
  if (chain.bottom !== undefined) ink.wires.push({ net: chain.bottom, path: `M${x} ${from}V${end}` });
}
