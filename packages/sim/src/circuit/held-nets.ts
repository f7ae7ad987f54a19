import type { Wave } from '../signal/wave.ts';
import { waveRange } from '../signal/wave-range.ts';
import type { Circuit, Part } from './description.ts';
import type { SupplyChange } from './schedule-fields.ts';

/** What supplies and signals can make between two nets, without load, over all time. */
export interface HeldVoltage {
  /** Least and greatest voltage (V) of the first net above the second. */
  readonly low: number;
  readonly high: number;
  /** The least apart from times at which a supply is off, at 0 V (V). */
  readonly lowWhenOn: number;
}

/** One source, or several between the same two nets, on the way from the first net of an island. */
interface Step {
  /** 1 where the way goes from minus to plus, else -1. */
  readonly sign: 1 | -1;
  readonly source: HeldSource;
}

interface HeldSource extends HeldVoltage {
  readonly plus: string;
  readonly minus: string;
}

/**
 * The nets of a circuit that supplies and signals hold, whatever the rest of the circuit does. Nets that sources join to
 * each other form an island; between two nets of one island the voltage is known. A source with resistance inside holds
 * a net of its own behind that resistance, see {@link insideOf}.
 */
export class HeldNets {
  /** The islands, each by the name of its first net. */
  readonly islands: readonly string[];
  /** By net: the island it belongs to (its first net), and the way from there. */
  readonly #inside = new Map<string, string>();
  readonly #ways = new Map<string, { readonly island: string; readonly steps: readonly Step[] }>();

  constructor(circuit: Circuit) {
    const sources = together(circuit.parts.flatMap(heldBy));
    for (const part of circuit.parts) {
      if (part.kind === 'supply' || part.kind === 'signal') this.#inside.set(part.nets.plus ?? '', insideOf(part));
    }
    for (const { minus } of sources) {
      if (this.#ways.has(minus)) continue;
      this.#ways.set(minus, { island: minus, steps: [] });
      // Entries that are added on the way are visited as well.
      for (const [net, { island, steps }] of this.#ways) {
        for (const source of sources) {
          const [next, sign] = source.minus === net ? ([source.plus, 1] as const) : ([source.minus, -1] as const);
          if ((source.minus !== net && source.plus !== net) || this.#ways.has(next)) continue;
          this.#ways.set(next, { island, steps: [...steps, { sign, source }] });
        }
      }
    }
    this.islands = [...new Set([...this.#ways.values()].map(({ island }) => island))];
  }

  /** The island a net belongs to; `undefined` for a net whose voltage depends on what flows. */
  islandOf(net: string): string | undefined {
    return this.#ways.get(net)?.island;
  }

  /** The net itself if it is held, else the net that is held behind the resistance of a source with its plus here. */
  behind(net: string): string {
    return this.#ways.has(net) ? net : (this.#inside.get(net) ?? net);
  }

  /** The voltage of one net above another; `undefined` unless both belong to one island. */
  between(upper: string, lower: string): HeldVoltage | undefined {
    const [up, down] = [this.#ways.get(upper), this.#ways.get(lower)];
    if (up === undefined || down === undefined || up.island !== down.island) return undefined;
    let common = 0;
    while (common < Math.min(up.steps.length, down.steps.length)) {
      if (up.steps[common]?.source !== down.steps[common]?.source) break;
      common += 1;
    }
    const steps = [
      ...up.steps.slice(common),
      ...down.steps.slice(common).map(({ sign, source }): Step => ({ sign: sign === 1 ? -1 : 1, source })),
    ];
    return steps.reduce(added, { low: 0, high: 0, lowWhenOn: 0 });
  }

  /** A voltage (V) that is nowhere exceeded: the greatest of every island, added up. */
  totalVoltage(): number {
    return this.islands.reduce((sum, island) => sum + this.#greatestIn(island), 0);
  }

  /** The greatest voltage between any two nets of an island (V): no part sees more unless capacitors pump. */
  greatestVoltage(): number {
    return this.islands.reduce((most, island) => Math.max(most, this.#greatestIn(island)), 0);
  }

  #greatestIn(island: string): number {
    const nets = [...this.#ways].flatMap(([net, way]) => (way.island === island ? [net] : []));
    let greatest = 0;
    for (const upper of nets) {
      for (const lower of nets) greatest = Math.max(greatest, this.between(upper, lower)?.high ?? 0);
    }
    return greatest;
  }
}

function added(sum: HeldVoltage, { sign, source }: Step): HeldVoltage {
  const [low, high] = sign === 1 ? [source.low, source.high] : [-source.high, -source.low];
  return {
    low: sum.low + low,
    high: sum.high + high,
    lowWhenOn: sum.lowWhenOn + (sign === 1 ? source.lowWhenOn : low),
  };
}

function heldBy(part: Part): HeldSource[] {
  const range = rangeOf(part);
  const { minus } = part.nets;
  if (range === undefined || minus === undefined) return [];
  const plus = insideOf(part);
  return plus === minus ? [] : [{ plus, minus, ...range }];
}

/** The net that a supply or signal holds: that of its plus, or one behind the resistance inside it. */
export function insideOf({ name, nets, values }: Part): string {
  // No net of a file can have a space in its name.
  return (values.resistance as number) > 0 ? `${name} inside` : (nets.plus ?? '');
}

/** What a supply or signal makes at its poles over all time; `undefined` for any other part. */
function rangeOf(part: Part): HeldVoltage | undefined {
  if (part.kind === 'signal') {
    const { low, high } = waveRange(part.values.wave as Wave);
    return { low, high, lowWhenOn: low };
  }
  if (part.kind !== 'supply') return undefined;
  const changes = part.values.changes as readonly SupplyChange[];
  const levels = [part.values.voltage as number, ...changes.map(({ voltage }) => voltage)];
  const on = levels.filter((level) => level !== 0);
  const least = (values: readonly number[]): number =>
    values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = levels.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  return { low: least(levels), high, lowWhenOn: least(on.length === 0 ? levels : on) };
}

/** Sources between the same two nets as one that may make what any of them makes. */
function together(sources: readonly HeldSource[]): HeldSource[] {
  const found = new Map<string, HeldSource>();
  for (const each of sources) {
    const turned = found.has(`${each.minus} ${each.plus}`);
    const source = turned
      ? { ...each, plus: each.minus, minus: each.plus, low: -each.high, high: -each.low, lowWhenOn: -each.high }
      : each;
    const key = `${source.plus} ${source.minus}`;
    const known = found.get(key);
    found.set(
      key,
      known === undefined
        ? source
        : {
            ...source,
            low: Math.min(known.low, source.low),
            high: Math.max(known.high, source.high),
            lowWhenOn: Math.min(known.lowWhenOn, source.lowWhenOn),
          },
    );
  }
  return [...found.values()];
}
