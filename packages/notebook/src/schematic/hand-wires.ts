import type { Direction, TimerPlace } from '@two-thirds/sim/board';
import type { Dot, NetName, PlacedBox, PlacedSymbol, Wire } from './drawing.ts';
import { GROUND } from './levels.ts';
import { linesOf, placeNames } from './net-names.ts';
import { boxRoom, overlap, type Room, symbolRooms } from './room.ts';
import type { Shape, TimerShape } from './shape.ts';
import { type GridPoint, STEP, WireGrid } from './wire-grid.ts';

/** The lines of supply and 0 V (steps from the top). */
export interface Rails {
  readonly rail: string | undefined;
  readonly railY: number;
  readonly groundY: number;
}

/** An end of a part, or a pin, on a net. */
interface End {
  readonly point: GridPoint;
  /** Where a wire leaves it. */
  readonly leaves: Direction;
}

/** From the middle of a symbol to its ends (steps). */
const REACH = 2;
/** From there to where the wire begins at the side of a symbol (pixels). */
const SIDE_START = 8;
/** A wire that leads to nothing, of a pin and of a part (steps). */
const PIN_STUB = 3;
const PART_STUB = 1;

const stepX: Readonly<Record<Direction, number>> = { up: 0, down: 0, left: -1, right: 1 };
const stepY: Readonly<Record<Direction, number>> = { up: -1, down: 1, left: 0, right: 0 };

/** The wires between symbols that stand in their places, laid one net after another. */
export class HandWires {
  private readonly grid: WireGrid;
  private readonly rails: Rails;
  private readonly numbers = new Map<string, number>();
  private readonly ends = new Map<string, End[]>();
  /** Pieces from the middle of symbols to the grid. */
  private readonly sides: Wire[] = [];
  private readonly rooms: Room[] = [];
  private readonly pinned = new Set<string>();
  /** Whether every end lies where a wire may lead. */
  isWhole = true;
  /** What all wires cost that were laid: the less, the straighter they are and the fewer cross. */
  cost = 0;

  /** @param width of the grid (steps). */
  constructor(width: number, rails: Rails, from?: HandWires) {
    this.rails = rails;
    this.grid = from?.grid.copy() ?? new WireGrid(width, rails.groundY);
    if (from === undefined) {
      // No wire runs outside the lines of supply and 0 V.
      this.grid.block({ left: 0, top: 0, right: width * STEP, bottom: (rails.railY - 1) * STEP });
      return;
    }
    this.cost = from.cost;
    for (const [net, number] of from.numbers) this.numbers.set(net, number);
    for (const [net, ends] of from.ends) this.ends.set(net, [...ends]);
    this.sides.push(...from.sides);
    this.rooms.push(...from.rooms);
    for (const net of from.pinned) this.pinned.add(net);
    this.isWhole = from.isWhole;
  }

  /** The same wires, to try something with. */
  copy(): HandWires {
    return new HandWires(0, this.rails, this);
  }

  /** Whether a symbol would stand clear of everything, with its texts and its ends. */
  hasRoom(symbol: PlacedSymbol, shape: Shape): boolean {
    const { body, texts } = symbolRooms(symbol);
    const reach = {
      left: symbol.x - STEP,
      right: symbol.x + STEP,
      top: symbol.y - 2 * STEP,
      bottom: symbol.y + 2 * STEP,
    };
    const hasSide =
      shape.side === undefined || this.grid.isFree({ ...body, left: symbol.x - 2 * STEP, right: symbol.x });
    const isClear = [body, ...texts].every((room) => !this.rooms.some((other) => overlap(room, other)));
    return isClear && hasSide && [body, reach, ...texts].every((room) => this.grid.isFree(room));
  }

  /** Puts the timer's box and its pins on the grid. */
  addBox(box: PlacedBox, timer: TimerShape, place: TimerPlace): void {
    this.take(boxRoom(box));
    for (const [pin, net] of Object.entries(timer.pins)) {
      const placed = place.pins[pin];
      if (placed === undefined) continue;
      const { side, at } = placed;
      const [left, top] = [box.x / STEP, box.y / STEP];
      const [right, bottom] = [left + box.width / STEP, top + box.height / STEP];
      const alongTop = at + left - place.x;
      const point =
        side === 'left'
          ? { x: left, y: at }
          : side === 'right'
            ? { x: right, y: at }
            : { x: alongTop, y: side === 'up' ? top : bottom };
      this.pinned.add(net);
      this.addEnd(net, { point, leaves: side }, true);
    }
  }

  /** Puts a symbol and its ends on the grid. */
  addSymbol(symbol: PlacedSymbol, { ends, side }: Shape): void {
    const { body, texts } = symbolRooms(symbol);
    for (const room of [body, ...texts]) this.take(room);
    const [x, y] = [symbol.x / STEP, symbol.y / STEP];
    const { first } = symbol;
    const at = (direction: Direction): GridPoint => ({
      x: x + REACH * stepX[direction],
      y: y + REACH * stepY[direction],
    });
    this.addEnd(ends[0], { point: at(first), leaves: first });
    const second = { up: 'down', down: 'up', left: 'right', right: 'left' } as const;
    if (ends[1] !== undefined) this.addEnd(ends[1], { point: at(second[first]), leaves: second[first] });
    if (side === undefined) return;
    const isLevel = first === 'left' || first === 'right';
    const leaves = isLevel ? 'down' : 'left';
    const point = at(leaves);
    this.addEnd(side, { point, leaves });
    const path = isLevel
      ? `M${symbol.x} ${symbol.y + SIDE_START}V${point.y * STEP}`
      : `M${symbol.x - SIDE_START} ${symbol.y}H${point.x * STEP}`;
    this.sides.push({ net: side, path });
  }

  /** Lays the lines of supply and 0 V, and then all wires; false where an end cannot be reached. */
  connectAll(): boolean {
    for (const [net, y] of [
      [this.rails.rail, this.rails.railY],
      [GROUND, this.rails.groundY],
    ] as const) {
      const ends = net === undefined ? [] : (this.ends.get(net) ?? []);
      if (net === undefined || ends.length < 2) continue;
      const places = ends.map(({ point }) => point.x);
      this.grid.layLine(this.number(net), y, Math.min(...places), Math.max(...places));
    }
    const isLine = (net: string): boolean => net === this.rails.rail || net === GROUND;
    const nets = [...this.ends.keys()].sort((a, b) => Number(isLine(b)) - Number(isLine(a)));
    return this.isWhole && nets.every((net) => this.connect(net));
  }

  /** Leads every end of a net to the others; false where one cannot be reached. */
  connect(net: string): boolean {
    const number = this.number(net);
    const open = (this.ends.get(net) ?? []).map(({ point }) => point);
    let wired = this.grid.pointsOf(number);
    if (wired.length === 0) wired = open.splice(0, 1);
    let left = open.filter((point) => !this.grid.touches(point, number));
    while (left.length > 0) {
      const reached = this.grid.connect(number, wired, left);
      if (reached === undefined) return false;
      this.cost += reached.cost;
      left = left.filter((point) => point.x !== reached.goal.x || point.y !== reached.goal.y);
      wired = [...this.grid.pointsOf(number), ...wired.slice(0, 1)];
    }
    return true;
  }

  /** The points at which a net's wires and ends lie. */
  pointsOf(net: string | undefined): readonly GridPoint[] {
    if (net === undefined) return [];
    const number = this.numbers.get(net);
    const wired = number === undefined ? [] : this.grid.pointsOf(number);
    return wired.length > 0 ? wired : (this.ends.get(net) ?? []).map(({ point }) => point);
  }

  /** How high a net lies: the middle of its wires (steps from the top); undefined where it has none yet. */
  height(net: string | undefined): number | undefined {
    const points = this.pointsOf(net);
    return points.length === 0 ? undefined : points.reduce((sum, { y }) => sum + y, 0) / points.length;
  }

  /** The drawn wires, junctions and names; undefined where a wire that leads to nothing has no room. */
  ink(
    symbols: readonly PlacedSymbol[],
    box: PlacedBox,
  ): { wires: readonly Wire[]; dots: readonly Dot[]; names: readonly NetName[] } | undefined {
    for (const [net, ends] of this.ends) {
      if (ends.length === 1 && ends[0] !== undefined && !this.layStub(net, ends[0])) return undefined;
    }
    const wires: Wire[] = [...this.sides];
    const dots: Dot[] = [];
    for (const [net, number] of this.numbers) {
      for (const { from, until } of this.grid.lines(number)) {
        const start = `M${from.x * STEP} ${from.y * STEP}`;
        wires.push({ net, path: from.y === until.y ? `${start}H${until.x * STEP}` : `${start}V${until.y * STEP}` });
      }
      for (const point of this.grid.pointsOf(number)) {
        const leads = (this.ends.get(net) ?? []).filter((end) => end.point.x === point.x && end.point.y === point.y);
        if (leads.length + this.grid.armsAt(point, number) > 2)
          dots.push({ net, x: point.x * STEP, y: point.y * STEP });
      }
    }
    const taken = symbols.flatMap((symbol) => {
      const { body, texts } = symbolRooms(symbol);
      return [body, ...texts];
    });
    const isNamed = (net: string): boolean =>
      this.pinned.has(net) || dots.some((dot) => dot.net === net) || (this.ends.get(net) ?? []).length !== 2;
    const named = [...this.ends.keys()].filter(isNamed);
    const lines = wires.flatMap(linesOf);
    const rails = new Map([
      [this.rails.rail ?? GROUND, 'above' as const],
      [GROUND, 'below' as const],
    ]);
    return { wires, dots, names: placeNames(named, lines, [boxRoom(box), ...taken], rails) };
  }

  private layStub(net: string, { point, leaves }: End): boolean {
    const number = this.number(net);
    const length = this.pinned.has(net) ? PIN_STUB : PART_STUB;
    const end = { x: point.x + length * stepX[leaves], y: point.y + length * stepY[leaves] };
    return this.grid.claim(end, number) && this.grid.connect(number, [point], [end]) !== undefined;
  }

  private take(room: Room): void {
    this.grid.block(room);
    this.rooms.push(room);
  }

  private addEnd(net: string, end: End, isPin = false): void {
    this.ends.set(net, [...(this.ends.get(net) ?? []), end]);
    this.isWhole = this.grid.claim(end.point, this.number(net), isPin) && this.isWhole;
  }

  private number(net: string): number {
    const number = this.numbers.get(net) ?? this.numbers.size + 1;
    this.numbers.set(net, number);
    return number;
  }
}
