import { fateObserver } from '../measure/fates.ts';
import { evaluate, type StopSignal } from './evaluate.ts';
import type { MapPlan, MapPoint } from './map.ts';
import { isUneven, type StepRange } from './ratio-steps.ts';
import { type StepOrder, stepOrder } from './step-order.ts';
import type { Subject } from './subject.ts';

/** Uneven points of a tile that are tried twice, to see whether their steps can be foretold. */
const TILE_ORDERS = 4;

/** What went on at one point where a ratio is not the same from output to output. */
export interface UnevenSample {
  /** Its values (SI). */
  readonly x: number;
  readonly y: number;
  readonly steps: StepRange;
  /** The paragraph on the fates of the pulses there. */
  readonly explanation: string;
}

/** Whether the order of steps can be foretold at one uneven point (SI). */
export interface PlacedOrder extends StepOrder {
  readonly x: number;
  readonly y: number;
}

/** Looks closely at the first uneven point of a tile; null without one, undefined when stopped. */
export function unevenSample(
  { x, y, timer, ...question }: MapPlan,
  subject: Subject,
  xs: readonly number[],
  ys: readonly number[],
  points: readonly (readonly MapPoint[])[],
  signal: StopSignal | undefined,
): UnevenSample | null | undefined {
  for (const [j, line] of points.entries()) {
    const i = line.findIndex(({ steps }) => isUneven(steps));
    const steps = line[i]?.steps;
    if (timer === undefined || steps === undefined) continue;
    const [atX, atY] = [xs[i]!, ys[j]!];
    const values = new Map([
      [x.name, atX],
      [y.name, atY],
    ]);
    let explain = (): string => '';
    const run = evaluate(subject, values, question, signal, (context) => {
      const facts = context.timers.find(({ name }) => name === timer);
      if (facts === undefined) return [];
      const fates = fateObserver(facts, question.window, { most: 1 });
      explain = () => fates.result().explanation;
      return [fates];
    });
    return run && { x: atX, y: atY, steps, explanation: explain() };
  }
  return null;
}

/** Tries at some uneven points of a tile, evenly chosen, whether their steps can be foretold; undefined when stopped. */
export function tileOrders(
  { x, y, timer: _, ...question }: MapPlan,
  subject: Subject,
  xs: readonly number[],
  ys: readonly number[],
  points: readonly (readonly MapPoint[])[],
  signal: StopSignal | undefined,
): PlacedOrder[] | undefined {
  const uneven = points.flatMap((line, j) =>
    line.flatMap(({ steps }, i) => (isUneven(steps) ? [{ x: xs[i]!, y: ys[j]! }] : [])),
  );
  const orders: PlacedOrder[] = [];
  const step = Math.max(1, uneven.length / TILE_ORDERS);
  for (let each = 0; each < uneven.length; each += step) {
    const at = uneven[Math.floor(each)]!;
    const values = new Map([
      [x.name, at.x],
      [y.name, at.y],
    ]);
    const order = stepOrder(subject, values, x.name, question, signal);
    if (order === undefined) return undefined;
    orders.push({ ...at, ...order });
  }
  return orders;
}
