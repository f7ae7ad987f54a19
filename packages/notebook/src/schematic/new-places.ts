import type { PlacedBox, PlacedSymbol } from './drawing.ts';
import { HandWires, type Rails } from './hand-wires.ts';
import { besideSymbol, textWidth, valueWidth } from './room.ts';
import type { Shape, TimerShape } from './shape.ts';
import { spreadOut } from './spread-out.ts';
import { netsOf } from './stages.ts';
import { symbolAt } from './symbol-at.ts';
import { STEP } from './wire-grid.ts';
import type { TimerPlace } from '@two-thirds/sim/board';

/** A circuit, or a part of one, in its places and wired. */
export interface Wired {
  readonly placed: readonly { readonly shape: Shape; readonly symbol: PlacedSymbol }[];
  readonly box: PlacedBox;
  readonly wires: HandWires;
}

/** What stays the same while parts find their places. */
export interface Surroundings {
  readonly timer: TimerShape;
  readonly place: TimerPlace;
  readonly rails: Rails;
}

/** Room right of what is laid out for parts that are new (steps). */
const NEW_ROOM = 16;
/** How many of the nearest free places are tried. */
const MOST_TRIED = 24;
/** How many rows of other parts are tried in a new column. */
const MOST_ROWS = 2;
/** From a symbol to the lines of supply and 0 V (steps). */
const FROM_RAIL = 3;
/** From the edge of the box to a symbol that takes its place (steps). */
const IN_PLACE_OF_BOX = 2;
/** What a place costs that makes the drawing wider, for every step, and one that is in no row with others. */
const WIDER_COST = 4;
const ROW_COST = 6;

/** Lays all wires of parts in their places; undefined where one finds no way. */
export function wire(placed: Wired['placed'], box: PlacedBox, around: Surroundings): Wired | undefined {
  const right = Math.max(box.x + box.width, ...placed.map(({ symbol }) => symbol.x));
  const wires = new HandWires(Math.ceil(right / STEP) + NEW_ROOM, around.rails);
  // Parts first: wires then run straight from part to part, and the pins join them.
  for (const { shape, symbol } of placed) wires.addSymbol(symbol, shape);
  wires.addBox(box, around.timer, around.place);
  return wires.connectAll() ? { placed, box, wires } : undefined;
}

/**
 * Puts parts where their wires are short and straight and cross few others: where there is room, or in a new column,
 * for which what stands right of it moves.
 *
 * @returns undefined where one finds no place.
 */
export function withNewParts(shapes: readonly Shape[], start: Wired, around: Surroundings): Wired | undefined {
  let current: Wired | undefined = start;
  const left = [...shapes];
  while (left.length > 0 && current !== undefined) {
    const { wires }: Wired = current;
    // Those that touch what is drawn come first, so that chains grow from there.
    const touching = left.findIndex((shape) => netsOf(shape).some((net) => wires.height(net) !== undefined));
    const [shape] = left.splice(Math.max(0, touching), 1);
    current = shape === undefined ? current : withPart(shape, current, around);
  }
  return current;
}

function withPart(shape: Shape, start: Wired, around: Surroundings): Wired | undefined {
  const { wires } = start;
  const [upper, lower] = shape.ends.map((net) => wires.height(net));
  const first = upper !== undefined && lower !== undefined && upper > lower ? 'down' : 'up';
  const rows = new Set(start.placed.map(({ symbol }) => symbol.y));
  const rated = [...inFreePlaces(shape, first, start, around), ...inNewColumns(shape, first, start, around)].map(
    (found) => {
      const last = found.placed.at(-1)?.symbol;
      const wider = rightEdge(found) - rightEdge(start);
      const cost =
        found.wires.cost + (WIDER_COST * Math.max(0, wider)) / STEP + (rows.has(last?.y ?? 0) ? 0 : ROW_COST);
      return { found, cost };
    },
  );
  return rated.sort((a, b) => a.cost - b.cost)[0]?.found;
}

function rightEdge({ placed, box }: Wired): number {
  return Math.max(box.x + box.width, ...placed.map(({ symbol }) => symbol.x));
}

/** The part in free places, those near its nets. */
function inFreePlaces(shape: Shape, first: 'up' | 'down', start: Wired, { rails }: Surroundings): Wired[] {
  const { wires, placed, box } = start;
  const right = rightEdge(start) / STEP + NEW_ROOM - 4;
  const sign = first === 'up' ? -2 : 2;
  const distances = [
    { net: shape.ends[0], dx: 0, dy: sign },
    { net: shape.ends[1], dx: 0, dy: -sign },
    { net: shape.side, dx: -2, dy: 0 },
  ].map(({ net, dx, dy }) => ({ points: wires.pointsOf(net), dx, dy }));
  const places: { symbol: PlacedSymbol; distance: number }[] = [];
  for (let x = 2; x <= right; x += 1) {
    for (let y = rails.railY + FROM_RAIL; y <= rails.groundY - FROM_RAIL; y += 1) {
      const symbol = symbolAt(shape, { x, y, first });
      if (!wires.hasRoom(symbol, shape)) continue;
      const distance = distances.reduce((sum, { points, dx, dy }) => {
        const far = points.map((point) => Math.abs(point.x - x - dx) + Math.abs(point.y - y - dy));
        return sum + (far.length === 0 ? 0 : Math.min(...far));
      }, 0);
      places.push({ symbol, distance });
    }
  }
  places.sort((one, other) => one.distance - other.distance);
  return places.slice(0, MOST_TRIED).flatMap(({ symbol }) => {
    const tried = wires.copy();
    tried.addSymbol(symbol, shape);
    if (!tried.isWhole || !netsOf(shape).every((net) => tried.connect(net))) return [];
    return [{ placed: [...placed, { shape, symbol }], box, wires: tried }];
  });
}

/** The part in a column of its own, before each of the others and before the box. */
function inNewColumns(shape: Shape, first: 'up' | 'down', start: Wired, around: Surroundings): Wired[] {
  const { placed, box } = start;
  const rows = rowsFor(shape, start, around.rails);
  const columns = [...new Set(placed.map(({ symbol }) => symbol.x))].map((x) => ({ x, from: x }));
  const room =
    besideSymbol(shape.kind) +
    Math.max(textWidth(shape.label ?? shape.name, true), valueWidth(shape.kind, shape.value));
  const shift = Math.ceil((room + 3 * STEP) / STEP) * STEP;
  return [...columns, { x: box.x + IN_PLACE_OF_BOX * STEP, from: box.x }].flatMap(({ x, from }) =>
    rows.flatMap((y) => {
      const moved = (at: number): number => (at >= from ? at + shift : at);
      const by = moved(box.x) - box.x;
      const symbols = placed.map(({ symbol }) => ({ ...symbol, x: moved(symbol.x) }));
      const added = symbolAt(shape, { x: x / STEP, y, first });
      const movedBox = { ...box, x: box.x + by, pins: box.pins.map((pin) => ({ ...pin, x: pin.x + by })) };
      const apart = spreadOut([...symbols, added], movedBox);
      if (apart === undefined) return [];
      const shapes = [...placed.map((each) => each.shape), shape];
      const all = apart.symbols.flatMap((symbol, index) => {
        const of = shapes[index];
        return of === undefined ? [] : [{ shape: of, symbol }];
      });
      return wire(all, apart.box, around) ?? [];
    }),
  );
}

/** Heights that suit a part: between its nets, and in a row with other parts. */
function rowsFor(shape: Shape, { wires, placed }: Wired, { railY, groundY }: Rails): number[] {
  const heights = netsOf(shape).map((net) => wires.height(net) ?? (railY + groundY) / 2);
  const middle = Math.round(heights.reduce((sum, height) => sum + height, 0) / heights.length);
  const rows = [...new Set(placed.map(({ symbol }) => symbol.y / STEP))];
  const near = rows.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle)).slice(0, MOST_ROWS);
  return [...new Set([middle, ...near])].filter((y) => y >= railY + FROM_RAIL && y <= groundY - FROM_RAIL);
}
