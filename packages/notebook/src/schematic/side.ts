import { type Chain, chainsOf, GROUND, orderNets } from './levels.ts';
import type { Shape, TimerShape } from './shape.ts';
import { netsOf, type Stage } from './stages.ts';

/** Pins on the left side, from top to bottom. */
const LEFT_PINS = ['reset', 'discharge', 'threshold', 'trigger', 'control'];
/** Height of the supply line (pixels). */
export const RAIL_Y = 30;
const LEVEL_GAP = 38;
/** Upright room for one symbol. */
const LINK_GAP = 54;
/** The same in a chain that hangs from its net: no sum of other heights, so that its end never meets a level. */
const HANGING_GAP = 51.3;
const LOOSE_ROOM = 14;
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
  const y = new Map<string, number>();
  let below = RAIL_Y;
  for (const [index, net] of levels.entries()) {
    const previous = levels[index - 1];
    const pins = previous === undefined ? 0 : Math.max(0, pinsOn(timer, previous).length - 1);
    const isFirst = index > 0 && previous === rail && net !== GROUND;
    let at = index === 0 ? RAIL_Y : below + Math.max(LEVEL_GAP + pins * PIN_GAP, isFirst ? BOX_TOP + FIRST_PIN : 0);
    for (const chain of chains) {
      const top = y.get(chain.top);
      if (chain.bottom === net && top !== undefined) at = Math.max(at, top + chain.links.length * LINK_GAP);
    }
    y.set(net, at);
    below = at;
  }
  const hanging = chains.filter((chain) => chain.bottom === undefined);
  const lowest = hanging.map((chain) => hangingEnd(chain, y.get(chain.top) ?? 0) + LOOSE_ROOM);
  return { order: levels, chains, y, foot: Math.max(y.get(GROUND) ?? 0, ...lowest) };
}

/** Where a chain ends that hangs from a net at this height. */
export function hangingEnd(chain: Chain, start: number): number {
  return start + chain.links.length * HANGING_GAP;
}
