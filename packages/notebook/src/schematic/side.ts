import { type Chain, chainsOf, GROUND, orderNets } from './levels.ts';
import type { Shape, TimerShape } from './shape.ts';
import { netsOf, type Stage } from './stages.ts';

/** Pins on the left side, from top to bottom. */
const LEFT_PINS = ['reset', 'discharge', 'threshold', 'trigger', 'control'];
/** Height of the supply line (pixels). */
export const RAIL_Y = 30;
const LEVEL_GAP = 34;
/** Upright room for one symbol with the text beside it. */
const SYMBOL_GAP = 46;
/** The same where its lower wire ends in the open or turns back. */
const HANGING_GAP = 58;
/** From the level above to the middle of such a symbol. */
const HANGING_START = 25;
/** From one pin to the next on the same net. */
export const PIN_GAP = 19;
/** From the rail to the upper edge of the box. */
export const BOX_TOP = 26;
/** From there to the first pin at a side. */
export const FIRST_PIN = 44;

/** What stands on one side of the timer's box. */
export interface Side {
  /** Nets that have a level, from top to bottom. */
  readonly order: readonly string[];
  readonly chains: readonly Chain[];
  readonly y: ReadonlyMap<string, number>;
  readonly foot: number;
}

/** Nets that are joined to the output and to no other pin, not even through parts. */
export function netsRightOfBox({ timer, shapes }: Stage, rail: string | undefined): Set<string> {
  const pins = timer?.pins ?? {};
  const output = pins['output'];
  const isRail = (net: string): boolean => net === rail || net === GROUND;
  if (output === undefined || isRail(output)) return new Set();
  const found = new Set([output]);
  for (let grown = true; grown; ) {
    grown = false;
    for (const shape of shapes) {
      const nets = netsOf(shape).filter((net) => !isRail(net));
      if (!nets.some((net) => found.has(net))) continue;
      for (const net of nets.filter((each) => !found.has(each))) {
        found.add(net);
        grown = true;
      }
    }
  }
  const inputs = Object.entries(pins).filter(([pin]) => pin !== 'output');
  return inputs.some(([, net]) => found.has(net)) ? new Set() : found;
}

/** Nets of the pins that leave the box on its left, from top to bottom, each once. */
export function leftNets(
  timer: TimerShape | undefined,
  rail: string | undefined,
  rightNets: ReadonlySet<string>,
): string[] {
  const pins = timer?.pins ?? {};
  const nets = [...LEFT_PINS, 'output']
    .map((pin) => pins[pin])
    .filter((net): net is string => net !== undefined && net !== rail && net !== GROUND && !rightNets.has(net));
  return [...new Set(nets)];
}

/** The pins at the sides of the box that lie on a net, from top to bottom. */
export function pinsOn(timer: TimerShape | undefined, net: string): string[] {
  const pins = timer?.pins ?? {};
  return [...LEFT_PINS, 'output'].filter((pin) => pins[pin] === net);
}

/** Orders the nets of one side of the box, joins its parts into chains and gives every net its height. */
export function placeSide(
  shapes: readonly Shape[],
  pinned: readonly string[],
  timer: TimerShape | undefined,
  rail: string | undefined,
): Side {
  const order = orderNets(shapes, rail, pinned);
  const wipers = shapes.map((shape) => shape.side).filter((net): net is string => net !== undefined);
  // The net that a link leads from is named, so that it needs a level.
  const linked = shapes.filter((shape) => shape.label !== undefined).map((shape) => shape.ends[0]);
  const chains = chainsOf(shapes, order, new Set([...pinned, ...wipers, ...linked]));
  const inside = new Set(chains.flatMap((chain) => chain.between));
  const levels = order.filter((net) => !inside.has(net));
  const gaps = gapHeights(chains, levels);
  const y = new Map<string, number>();
  let below = RAIL_Y;
  for (const [index, net] of levels.entries()) {
    const previous = levels[index - 1];
    const pins = previous === undefined ? 0 : Math.max(0, pinsOn(timer, previous).length - 1);
    const isFirst = index > 0 && previous === rail && net !== GROUND;
    const least = Math.max(LEVEL_GAP + pins * PIN_GAP, isFirst ? BOX_TOP + FIRST_PIN : 0);
    const at = index === 0 ? RAIL_Y : below + Math.max(least, gaps[index - 1] ?? 0);
    y.set(net, at);
    below = at;
  }
  return { order: levels, chains, y, foot: y.get(GROUND) ?? 0 };
}

/** How far apart levels must be so that every symbol stands between two of them. */
function gapHeights(chains: readonly Chain[], levels: readonly string[]): number[] {
  const counts = levels.map(() => 0);
  const heights = levels.map(() => 0);
  const last = levels.length - 2;
  const spans = chains.map(({ top, bottom, links }) => {
    const from = levels.indexOf(top);
    const isOpen = bottom === undefined;
    return { from, until: isOpen ? from + links.length : levels.indexOf(bottom), count: links.length, isOpen };
  });
  // Short spans first: they have the least choice.
  for (const { from, until, count, isOpen } of spans.sort((a, b) => a.until - a.from - (b.until - b.from))) {
    const inside = levels.map((_, gap) => gap).filter((gap) => gap >= from && gap < until && gap <= last);
    if (isOpen) {
      for (const gap of inside) {
        const stacked = gap === last ? Math.max(1, count - inside.length + 1) : 1;
        heights[gap] = Math.max(heights[gap] ?? 0, stacked * HANGING_GAP);
      }
      continue;
    }
    const held = (): number => inside.reduce((sum, gap) => sum + (counts[gap] ?? 0), 0);
    while (held() < count && inside.length > 0) {
      const emptiest = inside.reduce((best, gap) => ((counts[gap] ?? 0) < (counts[best] ?? 0) ? gap : best));
      counts[emptiest] = (counts[emptiest] ?? 0) + 1;
    }
  }
  return heights.map((height, gap) => Math.max(height, (counts[gap] ?? 0) * SYMBOL_GAP));
}

/**
 * Where the symbols of a chain stand that hangs from a net: each between the next two levels, what is left over one below
 * the other; those that hang from ground stand below it.
 *
 * @param heightOf heights of levels.
 */
export function hangingHeights(
  { top, links }: Chain,
  levels: readonly string[],
  heightOf: (net: string) => number,
): number[] {
  const from = levels.indexOf(top);
  const last = top === GROUND ? from : levels.length - 2;
  return links.map((_, index) => {
    const level = Math.min(from + index, last);
    return heightOf(levels[level] ?? GROUND) + HANGING_START + (from + index - level) * HANGING_GAP;
  });
}
