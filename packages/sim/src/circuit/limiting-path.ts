import type { Circuit, Part } from './description.ts';

/** The path through which a source can drive the most current through an LED. */
export interface LimitingPath {
  /** Resistance of the path, the LED's own slope included (Ω). */
  readonly resistance: number;
  /** Sum of what diodes and output stages on the path, the LED included, keep for themselves (V). */
  readonly drop: number;
}

interface Link {
  readonly part: string;
  readonly a: string;
  readonly b: string;
  readonly resistance: number;
  readonly drop: number;
  readonly isSource: boolean;
}

/** Finds the paths through which sources can drive LEDs, see {@link LimitingPaths.overLimit}. */
export class LimitingPaths {
  readonly #links: readonly Link[];
  readonly #linksAt = new Map<string, Link[]>();

  constructor(circuit: Circuit) {
    this.#links = circuit.parts.flatMap(linksOf);
    for (const link of this.#links) {
      for (const net of new Set([link.a, link.b])) {
        const known = this.#linksAt.get(net);
        if (known === undefined) this.#linksAt.set(net, [link]);
        else known.push(link);
      }
    }
  }

  /**
   * The path from one end of an LED through a supply or signal to the other on which the least voltage (V) would drive
   * the limit current (A), if that is below `voltage`; `undefined` if there is none, so that the current stays inside the
   * limit. Every contact counts as closed, every pot as turned to its end and every diode as conducting. Capacitors are
   * left out: what they pass ends by itself. No path meets a net twice, so that what is found can carry a current.
   */
  overLimit(led: Part, limit: number, voltage: number): LimitingPath | undefined {
    const { a = '', b = '' } = led.nets;
    const own = linkThrough(led);
    let found: Way | undefined;
    for (const source of this.#links) {
      if (!source.isSource) continue;
      const start = extended(extended(nowhere, own, limit), source, limit);
      for (const [near, far] of [
        [source.a, source.b],
        [source.b, source.a],
      ] as const) {
        for (const [from, to] of [
          [
            [a, near],
            [far, b],
          ],
          [
            [far, b],
            [a, near],
          ],
        ] as const) {
          const search = { without: [source.part, led.name], limit, most: found?.needed ?? voltage };
          const first = this.#wayBetween(from, { ...search, start, avoided: to });
          if (first === undefined) continue;
          found = this.#wayBetween(to, { ...search, start: first, avoided: first.nets }) ?? found;
        }
      }
    }
    return found;
  }

  /** The way from one net to another, put after `start`, that needs the least voltage, below `most`. */
  #wayBetween(
    [from, to]: readonly [string, string],
    { start, avoided, without, limit, most }: Search,
  ): Way | undefined {
    if (avoided.includes(from) || avoided.includes(to) || start.needed >= most) return undefined;
    const done = new Set(avoided);
    const open = new Map<string, Way>([[from, { ...start, nets: [from] }]]);
    for (;;) {
      const nearest = takeNearest(open);
      if (nearest === undefined) return undefined;
      const [net, way] = nearest;
      if (net === to) return way;
      done.add(net);
      for (const link of this.#linksAt.get(net) ?? []) {
        const next = link.a === net ? link.b : link.a;
        if (done.has(next) || without.includes(link.part)) continue;
        const longer = extended(way, link, limit);
        if (longer.needed >= (open.get(next)?.needed ?? most)) continue;
        open.set(next, { ...longer, nets: [...way.nets, next] });
      }
    }
  }
}

interface Way extends LimitingPath {
  /** Voltage that drives the limit current through it (V). */
  readonly needed: number;
  /** Every net on its last stretch, both ends included. */
  readonly nets: readonly string[];
}

interface Search {
  readonly start: Way;
  readonly avoided: readonly string[];
  readonly without: readonly string[];
  readonly limit: number;
  readonly most: number;
}

const nowhere: Way = { resistance: 0, drop: 0, needed: 0, nets: [] };

function extended(way: Way, { resistance, drop }: LimitingPath, limit: number): Way {
  return {
    resistance: way.resistance + resistance,
    drop: way.drop + drop,
    needed: way.needed + resistance * limit + drop,
    nets: way.nets,
  };
}

/** Removes and returns the way that needs the least voltage, with the net it ends at. */
function takeNearest(open: Map<string, Way>): [string, Way] | undefined {
  let nearest: [string, Way] | undefined;
  for (const entry of open) {
    if (nearest === undefined || entry[1].needed < nearest[1].needed) nearest = entry;
  }
  if (nearest !== undefined) open.delete(nearest[0]);
  return nearest;
}

/** What an LED itself adds to a path. */
function linkThrough(led: Part): LimitingPath {
  const { slope, forward } = led.values as { slope: number; forward: number };
  return { resistance: slope, drop: forward };
}

/** The ways through a part for lasting current, at their least resistance. */
function linksOf(part: Part): Link[] {
  const { nets } = part;
  const values = part.values as Readonly<Record<string, number>>;
  const { resistance = 0, end = 0, slope = 0, forward = 0, saturation = 0 } = values;
  const link = (from: string, to: string, ohms: number, drop = 0, isSource = false): Link[] => {
    const a = nets[from];
    const b = nets[to];
    return a === undefined || b === undefined ? [] : [{ part: part.name, a, b, resistance: ohms, drop, isSource }];
  };
  switch (part.kind) {
    case 'supply':
    case 'signal':
      return link('plus', 'minus', resistance, 0, true);
    case 'resistor':
    case 'button':
    case 'jumper':
    case 'switch':
    case 'probe':
    case 'speaker':
      return link('a', 'b', resistance);
    case 'pot':
      return [...link('a', 'wiper', end), ...link('wiper', 'b', end)];
    case 'diode':
    case 'led':
      return link('a', 'b', slope, forward);
    case 'transistor':
      return [...link('base', 'emitter', slope, forward), ...link('collector', 'emitter', slope, saturation)];
    case 'timer': {
      const timer = part.values.parameters as Readonly<Record<string, number>>;
      return [
        ...link('supply', 'output', timer.outputHighResistance ?? 0, timer.outputHighDrop ?? 0),
        ...link('output', 'ground', timer.outputLowResistance ?? 0, timer.outputLowSaturation ?? 0),
        ...link('discharge', 'ground', timer.dischargeResistance ?? 0, timer.dischargeSaturation ?? 0),
      ];
    }
    default:
      return [];
  }
}
