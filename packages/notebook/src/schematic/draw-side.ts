import type { Column } from './columns.ts';
import { SYMBOL_REACH } from './drawing.ts';
import type { Ink } from './ink.ts';
import { type Chain, GROUND } from './levels.ts';
import type { TimerShape } from './shape.ts';
import { hangingHeights, pinsOn, type Side } from './side.ts';

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
/** From the lower end of a symbol to the wire that leads back up from it (pixels). */
const RETURN = 5;

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
    for (const chain of column.chains) {
      const start = height(chain.top);
      const end = chain.bottom === undefined ? undefined : height(chain.bottom);
      const heights =
        end === undefined
          ? hangingHeights(chain, side.order, height)
          : symbolHeights(start, end, chain.links.length, side.order.map(height));
      drawChain(ink, chain, column, { start, heights, heightOf: height });
    }
  }
  for (const { net, y, from, until, places } of lines) {
    ink.wires.push({ net, path: `M${from} ${y}H${until}` });
    ink.dots.push(...junctions(places, from, until).map((x) => ({ net, x, y })));
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
    return [{ net, y, from: Math.min(...ends), until: Math.max(...ends), places }];
  });
}

/** Where three or more wires meet on a level line. An end of the line where one part turns off is a plain bend. */
function junctions(places: readonly number[], from: number, until: number): number[] {
  return [...new Set(places)].filter(
    (x) => places.filter((each) => each === x).length + (x > from ? 1 : 0) + (x < until ? 1 : 0) >= 3,
  );
}

/** Heights for the symbols of a chain: between the levels that its wire passes, where there is most room for each. */
function symbolHeights(start: number, end: number, count: number, levels: readonly number[]): number[] {
  const passed = levels.filter((y) => y > start && y < end).sort((a, b) => a - b);
  const borders = [start, ...passed, end];
  const gaps = borders
    .slice(1)
    .map((until, index) => ({ from: borders[index] ?? start, size: until - (borders[index] ?? start), count: 0 }));
  for (let placed = 0; placed < count; placed += 1) {
    const roomiest = gaps.reduce((best, gap) =>
      gap.size / (gap.count + 1) > best.size / (best.count + 1) ? gap : best,
    );
    roomiest.count += 1;
  }
  return gaps.flatMap(({ from, size, count: inside }) =>
    Array.from({ length: inside }, (_, index) => from + (size * (index + 0.5)) / inside),
  );
}

interface ChainPlace {
  readonly start: number;
  readonly heights: readonly number[];
  readonly heightOf: (net: string) => number;
}

function drawChain(ink: Ink, chain: Chain, { x, sideWires }: Column, place: ChainPlace): void {
  const { start, heights, heightOf } = place;
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
    if (chain.returns)
      ink.wires.push({ net: chain.top, path: `M${x} ${from}V${from + RETURN}H${wires.back}V${start}` });
  });
  if (chain.bottom !== undefined)
    ink.wires.push({ net: chain.bottom, path: `M${x} ${from}V${heightOf(chain.bottom)}` });
}
