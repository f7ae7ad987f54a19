import type { Circuit, Part } from './description.ts';

/** The path through which a source can drive the most current through an LED. */
export interface LimitingPath {
  /** Resistance of the path, the LED's own slope included (Ω). */
  readonly resistance: number;
  /** Sum of what diodes and output stages on the path, the LED included, keep for themselves (V). */
  readonly drop: number;
}

interface Link {
  readonly a: string;
  readonly b: string;
  readonly resistance: number;
  readonly drop: number;
  readonly isSource: boolean;
}

interface Reached extends LimitingPath {
  readonly net: string;
  /** Whether the path has come through a supply or signal. */
  readonly driven: boolean;
}

/**
 * Finds the path of least resistance from one end of an LED through a supply or signal to the other, as if every contact
 * were closed, every pot turned to its end and every diode conducting; `undefined` if there is none. Capacitors are left
 * out: what they pass ends by itself.
 */
export function limitingPath(circuit: Circuit, led: Part): LimitingPath | undefined {
  const links = circuit.parts.flatMap((part) => (part === led ? [] : linksOf(part)));
  const { a = '', b = '' } = led.nets;
  const open: Reached[] = [{ net: a, driven: false, resistance: 0, drop: 0 }];
  const done = new Set<string>();
  for (;;) {
    const nearest = takeNearest(open);
    if (nearest === undefined) return undefined;
    const key = `${nearest.driven} ${nearest.net}`;
    if (done.has(key)) continue;
    done.add(key);
    const own = led.values as { slope: number; forward: number };
    if (nearest.driven && nearest.net === b) {
      return { resistance: nearest.resistance + own.slope, drop: nearest.drop + own.forward };
    }
    for (const link of links) {
      if (link.a !== nearest.net && link.b !== nearest.net) continue;
      open.push({
        net: link.a === nearest.net ? link.b : link.a,
        driven: nearest.driven || link.isSource,
        resistance: nearest.resistance + link.resistance,
        drop: nearest.drop + link.drop,
      });
    }
  }
}

/** Removes and returns the entry of least resistance. */
function takeNearest(open: Reached[]): Reached | undefined {
  let least = 0;
  for (const [index, entry] of open.entries()) {
    if (entry.resistance < (open[least]?.resistance ?? Number.POSITIVE_INFINITY)) least = index;
  }
  return open.splice(least, 1)[0];
}

/** The ways through a part for lasting current, at their least resistance. */
function linksOf(part: Part): Link[] {
  const { nets } = part;
  const values = part.values as Readonly<Record<string, number>>;
  const { resistance = 0, end = 0, slope = 0, forward = 0 } = values;
  const link = (from: string, to: string, ohms: number, drop = 0, isSource = false): Link[] => {
    const a = nets[from];
    const b = nets[to];
    return a === undefined || b === undefined ? [] : [{ a, b, resistance: ohms, drop, isSource }];
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
      return link('a', 'b', resistance);
    case 'pot':
      return [...link('a', 'wiper', end), ...link('wiper', 'b', end)];
    case 'diode':
    case 'led':
      return link('a', 'b', slope, forward);
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
