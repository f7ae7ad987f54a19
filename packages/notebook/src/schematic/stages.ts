import type { Shape, TimerShape } from './shape.ts';

/**
 * A piece of a circuit that is drawn by itself: one timer with the parts around it. Stages are joined by the names of
 * their nets.
 */
export interface Stage {
  readonly timer: TimerShape | undefined;
  readonly shapes: readonly Shape[];
}

/**
 * Splits a circuit into stages, one for each timer: a part goes to the timer it is joined to by the fewest parts in
 * between, not counting ways through the supply nets; what touches supply nets alone goes to the first stage.
 */
export function stagesOf(shapes: readonly Shape[], timers: readonly TimerShape[], rails: ReadonlySet<string>): Stage[] {
  if (timers.length <= 1) return [{ timer: timers[0], shapes }];
  const reach = timers.map((timer) => distances(shapes, Object.values(timer.pins), rails));
  return timers.map((timer, index) => ({
    timer,
    shapes: shapes.filter((shape) => nearest(shape, reach) === index),
  }));
}

/** How many parts lie between these nets and every other net. */
function distances(
  shapes: readonly Shape[],
  start: readonly string[],
  rails: ReadonlySet<string>,
): Map<string, number> {
  const found = new Map(start.filter((net) => !rails.has(net)).map((net) => [net, 0]));
  const queue = [...found.keys()];
  for (let net = queue.shift(); net !== undefined; net = queue.shift()) {
    const next = (found.get(net) ?? 0) + 1;
    for (const shape of shapes) {
      const nets = netsOf(shape);
      if (!nets.includes(net)) continue;
      for (const other of nets.filter((each) => !rails.has(each) && !found.has(each))) {
        found.set(other, next);
        queue.push(other);
      }
    }
  }
  return found;
}

function nearest(shape: Shape, reach: readonly Map<string, number>[]): number {
  const far = reach.map((each) => Math.min(...netsOf(shape).map((net) => each.get(net) ?? Infinity)));
  return Math.max(0, far.indexOf(Math.min(...far)));
}

/** The nets a shape touches, each once. */
export function netsOf(shape: Shape): string[] {
  const nets = [shape.ends[0], shape.ends[1], shape.side];
  return [...new Set(nets.filter((net): net is string => net !== undefined))];
}
