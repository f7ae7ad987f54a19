import { type ConductingLink, conductingLinks } from './conducting-links.ts';
import type { Circuit } from './description.ts';
import { HeldNets } from './held-nets.ts';

/** A way by which supplies or signals drive a lasting current through a part. */
export interface DrivenPath {
  /** Most that the sources make at its ends (V). */
  readonly voltage: number;
  /** Sum of what diodes, output stages and the part itself keep for themselves (V); always less than `voltage`. */
  readonly drop: number;
  /** Resistance all the way round, that of the part and of the sources included (Ω). */
  readonly resistance: number;
  /** Most current that can flow (A); `Infinity` where nothing limits it. */
  readonly current: number;
  /** The links from the source to the part, and from the part on, each in the order of the current. */
  readonly before: readonly ConductingLink[];
  readonly after: readonly ConductingLink[];
}

/** Finds the ways by which supplies and signals can drive lasting currents through parts, see {@link through}. */
export class LimitingPaths {
  readonly #held: HeldNets;
  readonly #outOf = new Map<string, ConductingLink[]>();
  readonly #into = new Map<string, ConductingLink[]>();

  constructor(circuit: Circuit, held = new HeldNets(circuit)) {
    this.#held = held;
    for (const link of [...conductingLinks(circuit), ...sourceLinks(circuit, held)]) {
      put(this.#outOf, link.from, link);
      put(this.#into, link.to, link);
    }
  }

  /**
   * The way through a link that leaves the most voltage over when the limit current (A) flows; `undefined` if no source
   * can drive any current through it. Currents go only where diodes and output stages let them. No way meets a net
   * twice, so that what is found can carry a current, and none uses a timer's output as high and as low.
   *
   * @param crossing the part to go through; its own other links are not used.
   * @param limit with 0, the way that leaves the most voltage without current.
   * @param without further parts not to use.
   */
  through(crossing: ConductingLink, limit: number, without: ReadonlySet<string> = new Set()): DrivenPath | undefined {
    if (crossing.from === crossing.to) return undefined;
    const search = { limit, without: new Set([crossing.part, ...without]) };
    let found: (DrivenPath & { readonly spare: number }) | undefined;
    for (const island of this.#held.islands) {
      for (const upFirst of [true, false]) {
        const [near, far] = upFirst ? [crossing.from, crossing.to] : [crossing.to, crossing.from];
        const starts = this.#ends(near, upFirst, { ...search, island, avoided: [far], timers: statesOf([crossing]) });
        for (const [one, first] of starts) {
          const timers = statesOf([crossing, ...first.links]);
          const rest = this.#ends(far, !upFirst, { ...search, island, avoided: first.nets, timers });
          for (const [other, second] of rest) {
            const [up, down] = upFirst ? [first, second] : [second, first];
            const [upper, lower] = upFirst ? [one, other] : [other, one];
            const path = this.#driven(crossing, { upper, up, lower, down }, limit);
            if (path !== undefined && path.spare > (found?.spare ?? -Infinity)) found = path;
          }
        }
      }
    }
    return found;
  }

  /**
   * The one net held by sources that a net is joined to by anything that conducts, in either direction; `undefined` where
   * there is none, or more than one.
   *
   * @param without a part not to use: the timer whose input it is.
   */
  onlyFeeder(net: string, without: string): string | undefined {
    const seen = new Set([net]);
    const feeders: string[] = [];
    for (const each of seen) {
      if (this.#held.islandOf(each) !== undefined) {
        feeders.push(each);
        continue;
      }
      for (const link of [...(this.#into.get(each) ?? []), ...(this.#outOf.get(each) ?? [])]) {
        if (link.part !== without) seen.add(link.from === each ? link.to : link.from);
      }
    }
    return feeders.length === 1 ? feeders[0] : undefined;
  }

  #driven(
    crossing: ConductingLink,
    { upper, up, lower, down }: { upper: string; up: Way; lower: string; down: Way },
    limit: number,
  ): (DrivenPath & { readonly spare: number }) | undefined {
    const source = this.#held.between(upper, lower);
    if (source === undefined) return undefined;
    const before = [...up.links].reverse();
    const after = down.links;
    const links = [...before, crossing, ...after];
    const drop = links.reduce((sum, link) => sum + link.drop, 0);
    const resistance = links.reduce((sum, link) => sum + link.resistance, source.resistance);
    const voltage = source.high;
    if (voltage <= drop) return undefined;
    const most = links.reduce((least, link) => Math.min(least, link.most), Infinity);
    const current = Math.min(most, (voltage - drop) / resistance);
    return { voltage, drop, resistance, current, before, after, spare: voltage - drop - resistance * limit };
  }

  /** The nets of an island that a net can be fed from (or can feed), each with the way that takes the least voltage. */
  #ends(start: string, upwards: boolean, { limit, without, island, avoided, timers }: Search): Map<string, Way> {
    const ends = new Map<string, Way>();
    const links = upwards ? this.#into : this.#outOf;
    const done = new Set(avoided);
    if (done.has(start)) return ends;
    const open = new Map<string, Way>([[start, { needed: 0, nets: [start], links: [] }]]);
    for (;;) {
      const nearest = takeNearest(open);
      if (nearest === undefined) return ends;
      const [net, way] = nearest;
      done.add(net);
      if (this.#held.islandOf(net) === island) {
        ends.set(net, way);
        continue;
      }
      const states = new Map([...timers, ...statesOf(way.links)]);
      for (const link of links.get(net) ?? []) {
        const next = upwards ? link.from : link.to;
        if (done.has(next) || without.has(link.part)) continue;
        // A current source that stays below the limit carries none of the currents in question.
        if (limit > 0 && link.most <= limit) continue;
        if (link.output !== undefined && (states.get(link.part) ?? link.output) !== link.output) continue;
        const needed = way.needed + link.resistance * limit + link.drop;
        if (needed >= (open.get(next)?.needed ?? Infinity)) continue;
        open.set(next, { needed, nets: [...way.nets, next], links: [...way.links, link] });
      }
    }
  }
}

interface Way {
  /** Voltage that drives the limit current along it (V). */
  readonly needed: number;
  /** Every net on it, from the part to the source. */
  readonly nets: readonly string[];
  readonly links: readonly ConductingLink[];
}

interface Search {
  readonly limit: number;
  readonly without: ReadonlySet<string>;
  readonly island: string;
  readonly avoided: readonly string[];
  readonly timers: ReadonlyMap<string, 'high' | 'low'>;
}

/** What the outputs of timers must be for these links to conduct. */
function statesOf(links: readonly ConductingLink[]): Map<string, 'high' | 'low'> {
  return new Map(links.flatMap(({ part, output }) => (output === undefined ? [] : [[part, output] as const])));
}

/** Sources as links: on a way between nets of one island, sources of another help or hinder the current. */
function sourceLinks(circuit: Circuit, held: HeldNets): ConductingLink[] {
  return circuit.parts.flatMap(({ name, kind, nets }): ConductingLink[] => {
    const { plus, minus } = nets;
    if ((kind !== 'supply' && kind !== 'signal') || plus === undefined || minus === undefined) return [];
    const made = held.between(plus, minus);
    if (made === undefined) return [];
    const link = { part: name, resistance: made.resistance, most: Infinity, through: 'source' } as const;
    return [
      { ...link, from: minus, to: plus, drop: -made.high },
      { ...link, from: plus, to: minus, drop: made.low },
    ];
  });
}

function put(links: Map<string, ConductingLink[]>, net: string, link: ConductingLink): void {
  const known = links.get(net);
  if (known === undefined) links.set(net, [link]);
  else known.push(link);
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
