import type { NetName, Wire } from './drawing.ts';
import { overlap, type Room, textRoom, textWidth } from './room.ts';

/** A straight piece of wire (pixels), from left to right or from top to bottom. */
export interface Line {
  readonly net: string;
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** Room kept for a voltage at the cursor (pixels), as in `−12.3 mV`. */
const VOLTAGE_WIDTH = 54;
/** From a level wire to the text above and below it, from an upright one to the text beside it. */
const ABOVE = 6;
const BELOW = 15;
const BESIDE = 6;
const LINE_HEIGHT = 14;
const RAIL_GAP = 8;
/** Between a text and whatever else is drawn. */
const CLEARANCE = 1;
/** From a text to whatever stands before or after it in the same line (pixels). */
const APART = 4;
/** Places are tried this far apart. */
const GAP = 5;

/** What a place for a name costs more than the best: name and voltage together on one side of the wire, and upright wires. */
const SAME_SIDE = 12;
const UPRIGHT = 20;

/**
 * Finds places for the names of nets, and for their voltages, beside their wires and clear of everything else. A net for
 * which there is none stays without a name.
 *
 * @param nets those to be named, what matters most first.
 * @param taken what symbols, texts and boxes take up.
 * @param rails nets whose names stand outside, above or below all other wires.
 */
export function placeNames(
  nets: readonly string[],
  wires: readonly Line[],
  taken: readonly Room[],
  rails: ReadonlyMap<string, 'above' | 'below'> = new Map(),
): NetName[] {
  const rooms = [...taken, ...wires.map(wireRoom)];
  return nets.flatMap((net) => {
    const outside = rails.get(net);
    const candidates = (
      outside === undefined
        ? wires.filter((wire) => wire.net === net).flatMap(placesAt)
        : placesOutside(net, outside, wires)
    ).sort((a, b) => a.cost - b.cost);
    const found = candidates.find((each) =>
      each.rooms.every((room) => !rooms.some((other) => overlap(apart(room), other))),
    );
    if (found === undefined) return [];
    rooms.push(...found.rooms);
    return [found.name];
  });
}

function apart({ left, right, ...room }: Room): Room {
  return { ...room, left: left - APART, right: right + APART };
}

/** Name and voltage one after the other along the line of supply or 0 V, at its left end if there is room. */
function placesOutside(net: string, outside: 'above' | 'below', wires: readonly Line[]): Candidate[] {
  const level = wires.filter((wire) => wire.net === net && wire.y1 === wire.y2);
  const heights = level.map(({ y1 }) => y1);
  const height = outside === 'above' ? Math.min(...heights) : Math.max(...heights);
  const y = outside === 'above' ? height - RAIL_GAP : height + BELOW + 1;
  return level
    .filter(({ y1 }) => y1 === height)
    .flatMap(({ x1, x2 }) => {
      const count = Math.floor((x2 - x1) / GAP) + 1;
      return Array.from({ length: count }, (_, index) => x1 + index * GAP);
    })
    .map((x) => candidate(net, { x, y }, { x: x + textWidth(net) + RAIL_GAP, y }, x));
}

/** Level and upright pieces of the path of a wire. */
export function linesOf({ net, path }: Wire): Line[] {
  const found: Line[] = [];
  let [x, y] = [0, 0];
  for (const [, command, text] of path.matchAll(/([MHVh])([-\d. ]+)/g)) {
    const numbers = (text ?? '').trim().split(/ +/).map(Number);
    const [fromX, fromY] = [x, y];
    if (command === 'M') [x = 0, y = 0] = numbers;
    else if (command === 'H') [x = 0] = numbers;
    else if (command === 'h') x += numbers[0] ?? 0;
    else [y = 0] = numbers;
    if (command === 'M') continue;
    found.push({ net, x1: Math.min(fromX, x), y1: Math.min(fromY, y), x2: Math.max(fromX, x), y2: Math.max(fromY, y) });
  }
  return found;
}

interface Candidate {
  readonly name: NetName;
  readonly rooms: readonly Room[];
  readonly cost: number;
}

function placesAt(wire: Line): Candidate[] {
  return wire.y1 === wire.y2 ? placesAlong(wire) : placesBeside(wire);
}

/** Above a level wire with the voltage below it, or both above, or both below. */
function placesAlong({ net, x1, x2, y1: y }: Line): Candidate[] {
  const width = textWidth(net);
  const found: Candidate[] = [];
  for (let x = x1 - width; x <= x2; x += GAP) {
    const overhang = Math.max(0, x1 - x) + Math.max(0, x + width - x2);
    // Nothing but a few pixels may reach past the ends of a wire that is long enough.
    const cost = overhang * 0.5 + Math.abs(x + width / 2 - (x1 + x2) / 2) * 0.1;
    found.push(
      candidate(net, { x, y: y - ABOVE }, { x, y: y + BELOW }, cost),
      candidate(net, { x, y: y - ABOVE }, { x, y: y - ABOVE - LINE_HEIGHT }, cost + SAME_SIDE),
      candidate(net, { x, y: y + BELOW }, { x, y: y + BELOW + LINE_HEIGHT }, cost + SAME_SIDE),
    );
  }
  return found;
}

/** Right or left of an upright wire, the voltage below the name. */
function placesBeside({ net, x1: x, y1, y2 }: Line): Candidate[] {
  const width = Math.max(textWidth(net), VOLTAGE_WIDTH);
  const found: Candidate[] = [];
  for (let y = y1 + LINE_HEIGHT; y <= y2 - LINE_HEIGHT; y += GAP) {
    const cost = UPRIGHT + Math.abs(y - (y1 + y2) / 2) * 0.1;
    for (const at of [x + BESIDE, x - BESIDE - width]) {
      found.push(candidate(net, { x: at, y }, { x: at, y: y + LINE_HEIGHT }, cost));
    }
  }
  return found;
}

function candidate(
  net: string,
  name: { readonly x: number; readonly y: number },
  voltage: { readonly x: number; readonly y: number },
  cost: number,
): Candidate {
  const placed: NetName = { net, ...name, anchor: 'start', voltage: { ...voltage, anchor: 'start' } };
  return { name: placed, rooms: nameRooms(placed), cost };
}

/** What the name of a net and its voltage take up. */
export function nameRooms({ net, x, y, anchor, voltage }: NetName): Room[] {
  return [textRoom({ x, y, anchor }, textWidth(net)), textRoom(voltage, VOLTAGE_WIDTH)];
}

function wireRoom({ x1, y1, x2, y2 }: Line): Room {
  return { left: x1 - CLEARANCE, top: y1 - CLEARANCE, right: x2 + CLEARANCE, bottom: y2 + CLEARANCE };
}
