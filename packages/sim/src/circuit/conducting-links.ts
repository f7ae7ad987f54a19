import type { Circuit, Part } from './description.ts';
import { insideOf } from './held-nets.ts';

/** One way for lasting current through a part, at its least resistance, in the direction in which it can flow. */
export interface ConductingLink {
  readonly part: string;
  readonly from: string;
  readonly to: string;
  /** Ω. */
  readonly resistance: number;
  /** Voltage that it keeps for itself (V); below zero for a source that drives the current on. */
  readonly drop: number;
  /** The most current it lets through (A). */
  readonly most: number;
  readonly through: 'contact' | 'pot' | 'source' | 'timer' | 'other';
  /** For a link of a timer: it conducts while the output is so. For a contact of a relay: while it is pulled in (`high`) or not. */
  readonly output?: 'high' | 'low';
}

/**
 * Every way for lasting current through the parts of a circuit; of supplies and signals, the resistance inside. Every contact counts as
 * closed, every pot as turned to its end. Capacitors are left out: what they pass ends by itself; so are the bias
 * currents of timers.
 */
export function conductingLinks(circuit: Circuit): ConductingLink[] {
  return circuit.parts.flatMap(linksOf);
}

/** The links of a timer, by what conducts: the output stage to either side, and the discharge switch. */
export function timerLinks(part: Part): Partial<Record<'high' | 'low' | 'discharge', ConductingLink>> {
  const values = part.values.parameters as Readonly<Record<string, number>>;
  const { supply, output, ground, discharge } = part.nets;
  const link = (
    from: string | undefined,
    to: string | undefined,
    name: 'outputHigh' | 'outputLow' | 'discharge',
    drop: number | undefined,
  ): ConductingLink | undefined => {
    if (from === undefined || to === undefined) return undefined;
    const resistance = values[`${name}Resistance`] ?? 0;
    const state = name === 'outputHigh' ? 'high' : 'low';
    return { part: part.name, from, to, resistance, drop: drop ?? 0, most: Infinity, through: 'timer', output: state };
  };
  const high = link(supply, output, 'outputHigh', values.outputHighDrop);
  const low = link(output, ground, 'outputLow', values.outputLowSaturation);
  const open = link(discharge, ground, 'discharge', values.dischargeSaturation);
  return {
    ...(high === undefined ? {} : { high }),
    ...(low === undefined ? {} : { low }),
    ...(open === undefined ? {} : { discharge: open }),
  };
}

/** The contact of a relay, each of its ways in both directions; none where it is not joined. */
export function contactLinks({ name, nets, values }: Part): ConductingLink[] {
  const { common, normallyOpen, normallyClosed } = nets;
  const resistance = values.contactResistance as number;
  const way = (net: string | undefined, output: 'high' | 'low'): ConductingLink[] => {
    if (common === undefined || net === undefined) return [];
    const link = { part: name, resistance, drop: 0, most: Infinity, through: 'contact', output } as const;
    return [
      { ...link, from: common, to: net },
      { ...link, from: net, to: common },
    ];
  };
  return [...way(normallyOpen, 'high'), ...way(normallyClosed, 'low')];
}

function linksOf(part: Part): ConductingLink[] {
  const { name, nets } = part;
  const values = part.values as Readonly<Record<string, number>>;
  const { resistance = 0, end = 0, slope = 0, forward = 0, saturation = 0, headroom = 0, current = Infinity } = values;
  const oneWay = (
    from: string,
    to: string,
    ohms: number,
    more: Partial<Pick<ConductingLink, 'drop' | 'most' | 'through'>> = {},
  ): ConductingLink[] => {
    const [start, stop] = [nets[from], nets[to]];
    if (start === undefined || stop === undefined) return [];
    return [
      { part: name, from: start, to: stop, resistance: ohms, drop: 0, most: Infinity, through: 'other', ...more },
    ];
  };
  const bothWays = (
    a: string,
    b: string,
    ohms: number,
    through: ConductingLink['through'] = 'other',
  ): ConductingLink[] => {
    return [...oneWay(a, b, ohms, { through }), ...oneWay(b, a, ohms, { through })];
  };
  switch (part.kind) {
    case 'supply':
    case 'signal': {
      const link = { part: name, resistance, drop: 0, most: Infinity, through: 'source' } as const;
      const [inside, plus] = [insideOf(part), nets.plus ?? ''];
      return inside === plus
        ? []
        : [
            { ...link, from: inside, to: plus },
            { ...link, from: plus, to: inside },
          ];
    }
    case 'resistor':
    case 'probe':
    case 'speaker':
    case 'solenoid':
      return bothWays('a', 'b', resistance);
    case 'buzzer':
      return bothWays('plus', 'minus', resistance);
    case 'relay':
      return [...bothWays('a', 'b', resistance), ...contactLinks(part)];
    case 'button':
    case 'jumper':
    case 'switch':
      return bothWays('a', 'b', resistance, 'contact');
    case 'pot':
      return [...bothWays('a', 'wiper', end, 'pot'), ...bothWays('wiper', 'b', end, 'pot')];
    case 'diode':
    case 'led':
      return oneWay('a', 'b', slope, { drop: forward });
    case 'source':
      return oneWay('a', 'b', headroom / current, { most: current });
    case 'transistor': {
      const npn = part.values.polarity === 'npn';
      const path = (terminal: string, drop: number): ConductingLink[] =>
        npn ? oneWay(terminal, 'emitter', slope, { drop }) : oneWay('emitter', terminal, slope, { drop });
      return [...path('base', forward), ...path('collector', saturation)];
    }
    case 'timer': {
      const links = Object.values(timerLinks(part));
      if (part.values.parameters === undefined) return links;
      const { outputOneWay } = part.values.parameters as { outputOneWay?: boolean };
      // An output stage of two switches conducts both ways.
      const back = links.filter(
        ({ from, to }) => outputOneWay !== true && (from === nets.output || to === nets.output),
      );
      return [...links, ...back.map((link) => ({ ...link, from: link.to, to: link.from }))];
    }
    default:
      return [];
  }
}
