import type { Room } from './room.ts';

/** Pixels from one point of the grid to the next. */
export const STEP = 10;

/** A point of the grid, in steps. */
export interface GridPoint {
  readonly x: number;
  readonly y: number;
}

/** 0 right, 1 down, 2 left, 3 up. */
type Heading = 0 | 1 | 2 | 3;

const STEPS_X = [1, 0, -1, 0] as const;
const STEPS_Y = [0, 1, 0, -1] as const;
/** What a step, a bend and a crossing cost: a crossing is worth a detour of some steps, a bend of a few. */
const STEP_COST = 2;
const BEND_COST = 14;
const CROSSING_COST = 24;
/** A step beside something that is drawn. */
const NEAR_COST = 1;

/**
 * A grid on which level and upright wires are laid between the ends of parts. Wires of different nets may cross at right
 * angles; they never share a stretch, an end or a bend, and keep off symbols and texts.
 */
export class WireGrid {
  private readonly width: number;
  private readonly height: number;
  /** By point: taken by a symbol or a text. */
  private readonly blocked: Uint8Array;
  /** By point: the net whose end or junction it is, counted from 1; 0 where there is none. */
  private readonly owner: Uint16Array;
  /** By point: the net of the wire from there to the right and downwards. */
  private readonly rightward: Uint16Array;
  private readonly downward: Uint16Array;
  /** By net: the points at which its wires lie. */
  private readonly points: Map<number, Set<number>>;

  /** @param width steps. @param height steps. @param from a grid of the same size to begin with. */
  constructor(width: number, height: number, from?: WireGrid) {
    this.width = width + 1;
    this.height = height + 1;
    const size = this.width * this.height;
    this.blocked = from?.blocked.slice() ?? new Uint8Array(size);
    this.owner = from?.owner.slice() ?? new Uint16Array(size);
    this.rightward = from?.rightward.slice() ?? new Uint16Array(size);
    this.downward = from?.downward.slice() ?? new Uint16Array(size);
    this.points = new Map([...(from?.points ?? [])].map(([net, points]) => [net, new Set(points)]));
  }

  /** The same grid with the same wires, to try something on. */
  copy(): WireGrid {
    return new WireGrid(this.width - 1, this.height - 1, this);
  }

  /** Keeps wires off a rectangle. */
  block({ left, top, right, bottom }: Room): void {
    for (
      let y = Math.max(0, Math.ceil(top / STEP));
      y <= Math.min(this.height - 1, Math.floor(bottom / STEP));
      y += 1
    ) {
      for (
        let x = Math.max(0, Math.ceil(left / STEP));
        x <= Math.min(this.width - 1, Math.floor(right / STEP));
        x += 1
      ) {
        this.blocked[this.at({ x, y })] = 1;
      }
    }
  }

  /** Whether a rectangle holds no wire and no end. */
  isFree({ left, top, right, bottom }: Room): boolean {
    const [fromX, fromY] = [Math.floor(left / STEP), Math.floor(top / STEP)];
    if (fromX < 0 || fromY < 0 || right > (this.width - 1) * STEP || bottom > (this.height - 1) * STEP) return false;
    for (let y = fromY; y <= Math.floor(bottom / STEP); y += 1) {
      for (let x = fromX; x <= Math.floor(right / STEP); x += 1) {
        const point = this.at({ x, y });
        const isInside = x * STEP >= left && y * STEP >= top;
        if (isInside && (this.blocked[point] === 1 || this.owner[point] !== 0)) return false;
        if (y * STEP >= top && this.rightward[point] !== 0 && (x + 1) * STEP > left) return false;
        if (x * STEP >= left && this.downward[point] !== 0 && (y + 1) * STEP > top) return false;
      }
    }
    return true;
  }

  /**
   * Sets a point aside for a net; false where it lies outside, or another net, a symbol or a text is there.
   *
   * @param isBorder whether it lies on the border of what it belongs to.
   */
  claim(point: GridPoint, net: number, isBorder = false): boolean {
    if (point.x < 0 || point.y < 0 || point.x >= this.width || point.y >= this.height) return false;
    const at = this.at(point);
    const owner = this.owner[at] ?? 0;
    if (this.blocked[at] === 1 && !isBorder) return false;
    if (owner !== net && (owner !== 0 || this.isForeign(at, net))) return false;
    this.owner[at] = net;
    this.blocked[at] = 0;
    return true;
  }

  /** Lays a level wire, over whatever lies there. */
  layLine(net: number, y: number, from: number, until: number): void {
    for (let x = from; x < until; x += 1) {
      this.rightward[this.at({ x, y })] = net;
      this.mark(net, this.at({ x, y }), this.at({ x: x + 1, y }));
    }
  }

  /** Whether a wire of the net touches this point. */
  touches(point: GridPoint, net: number): boolean {
    return this.points.get(net)?.has(this.at(point)) === true;
  }

  /** The points at which wires of a net lie. */
  pointsOf(net: number): GridPoint[] {
    return [...(this.points.get(net) ?? [])].map((at) => ({ x: at % this.width, y: Math.floor(at / this.width) }));
  }

  /**
   * Lays the cheapest wire from any of the starting points to any of the goals, all of one net.
   *
   * @returns the goal that was reached, and what the wire costs; `undefined` where none can be.
   */
  connect(
    net: number,
    starts: readonly GridPoint[],
    goals: readonly GridPoint[],
  ): { readonly goal: GridPoint; readonly cost: number } | undefined {
    const size = this.width * this.height;
    const isGoal = new Set(goals.map((goal) => this.at(goal)));
    const best = new Int32Array(size * 4).fill(-1);
    const cameFrom = new Int32Array(size * 4).fill(-1);
    const buckets: number[][] = [];
    const offer = (state: number, cost: number, before: number): void => {
      const known = best[state] ?? -1;
      if (known >= 0 && known <= cost) return;
      best[state] = cost;
      cameFrom[state] = before;
      (buckets[cost] ??= []).push(state);
    };
    for (const start of starts) {
      const at = this.at(start);
      if (isGoal.has(at)) return { goal: start, cost: 0 };
      if (!this.mayStop(at, net)) continue;
      for (let heading = 0; heading < 4; heading += 1) this.offerStep(net, at, heading as Heading, 0, -1 - at, offer);
    }
    for (let cost = 0; cost < buckets.length; cost += 1) {
      // States are added to the bucket at hand only by steps that cost nothing, and there are none.
      for (const state of buckets[cost] ?? []) {
        if (best[state] !== cost) continue;
        const [at, heading] = [state >> 2, (state & 3) as Heading];
        if (isGoal.has(at) && this.mayStop(at, net)) {
          this.lay(net, state, cameFrom);
          return { goal: { x: at % this.width, y: Math.floor(at / this.width) }, cost };
        }
        this.offerStep(net, at, heading, cost, state, offer);
        if (!this.mayStop(at, net)) continue;
        this.offerStep(net, at, ((heading + 1) & 3) as Heading, cost + BEND_COST, state, offer);
        this.offerStep(net, at, ((heading + 3) & 3) as Heading, cost + BEND_COST, state, offer);
      }
      buckets[cost] = [];
    }
    return undefined;
  }

  /** The wires of a net as level and upright lines between points where they bend, end or meet. */
  lines(net: number): { readonly from: GridPoint; readonly until: GridPoint }[] {
    const found: { from: GridPoint; until: GridPoint }[] = [];
    for (let y = 0; y < this.height; y += 1) {
      for (let x = 0, from = -1; x < this.width; x += 1) {
        const goesOn = this.rightward[this.at({ x, y })] === net;
        if (goesOn && from < 0) from = x;
        if (!goesOn && from >= 0) {
          found.push({ from: { x: from, y }, until: { x, y } });
          from = -1;
        }
      }
    }
    for (let x = 0; x < this.width; x += 1) {
      for (let y = 0, from = -1; y < this.height; y += 1) {
        const goesOn = this.downward[this.at({ x, y })] === net;
        if (goesOn && from < 0) from = y;
        if (!goesOn && from >= 0) {
          found.push({ from: { x, y: from }, until: { x, y } });
          from = -1;
        }
      }
    }
    return found;
  }

  /** How many wires of a net leave a point. */
  armsAt({ x, y }: GridPoint, net: number): number {
    const arms = [
      this.rightward[this.at({ x, y })],
      this.downward[this.at({ x, y })],
      x > 0 ? this.rightward[this.at({ x: x - 1, y })] : 0,
      y > 0 ? this.downward[this.at({ x, y: y - 1 })] : 0,
    ];
    return arms.filter((each) => each === net).length;
  }

  private at({ x, y }: GridPoint): number {
    return y * this.width + x;
  }

  /** Whether a wire of another net touches a point. */
  private isForeign(at: number, net: number): boolean {
    const left = at % this.width === 0 ? 0 : (this.rightward[at - 1] ?? 0);
    const above = this.downward[at - this.width] ?? 0;
    const [right, below] = [this.rightward[at] ?? 0, this.downward[at] ?? 0];
    return (
      (right !== 0 && right !== net) ||
      (below !== 0 && below !== net) ||
      (left !== 0 && left !== net) ||
      (above !== 0 && above !== net)
    );
  }

  /** Whether a wire of a net may end or bend here. */
  private mayStop(at: number, net: number): boolean {
    const owner = this.owner[at] ?? 0;
    return (owner === 0 || owner === net) && !this.isForeign(at, net);
  }

  /** Offers the step from a point in a direction, if a wire of the net may lie there. */
  private offerStep(
    net: number,
    at: number,
    heading: Heading,
    cost: number,
    before: number,
    offer: (state: number, cost: number, before: number) => void,
  ): void {
    const x = (at % this.width) + STEPS_X[heading];
    const y = Math.floor(at / this.width) + STEPS_Y[heading];
    if (x < 0 || y < 0 || x >= this.width || y >= this.height) return;
    const next = this.at({ x, y });
    const edges = heading % 2 === 0 ? this.rightward : this.downward;
    const along = edges[heading < 2 ? at : next] ?? 0;
    const owner = this.owner[next] ?? 0;
    if (this.blocked[next] === 1 || (along !== 0 && along !== net) || (owner !== 0 && owner !== net)) return;
    if (!this.isForeign(next, net)) {
      offer(next * 4 + heading, cost + STEP_COST + this.crowding(next, net), before);
      return;
    }
    // Another net's wire may be crossed where it runs straight on, at right angles.
    const isLevel = heading % 2 === 0;
    const [across, back] = isLevel ? [this.downward, next - this.width] : [this.rightward, next - 1];
    const crossed = across[next] ?? 0;
    const ahead = edges[heading < 2 ? next : next - (isLevel ? 1 : this.width)] ?? 0;
    const isStraight = crossed !== 0 && crossed !== net && crossed === across[back];
    if (isStraight && (ahead === 0 || ahead === net)) {
      offer(next * 4 + heading, cost + STEP_COST + CROSSING_COST, before);
    }
  }

  /** What it costs to lie beside symbols or wires of other nets. */
  private crowding(at: number, net: number): number {
    const isCrowded =
      this.isTaken(at - 1, net) ||
      this.isTaken(at + 1, net) ||
      this.isTaken(at - this.width, net) ||
      this.isTaken(at + this.width, net);
    return isCrowded ? NEAR_COST : 0;
  }

  private isTaken(at: number, net: number): boolean {
    return this.blocked[at] === 1 || this.isForeign(at, net);
  }

  private mark(net: number, ...places: readonly number[]): void {
    const points = this.points.get(net) ?? new Set();
    for (const at of places) points.add(at);
    this.points.set(net, points);
  }

  private lay(net: number, end: number, cameFrom: Int32Array): void {
    for (let state = end; state >= 0; ) {
      const [at, heading] = [state >> 2, state & 3];
      const from = at - (STEPS_X[heading] ?? 0) - (STEPS_Y[heading] ?? 0) * this.width;
      const edges = heading % 2 === 0 ? this.rightward : this.downward;
      edges[heading < 2 ? from : at] = net;
      this.mark(net, from, at);
      state = cameFrom[state] ?? -1;
    }
  }
}
