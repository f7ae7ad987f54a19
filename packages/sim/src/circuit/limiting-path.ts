import { type ConductingLink, conductingLinks } from './conducting-links.ts';
import type { Circuit } from './description.ts';
import { HeldNets, insideOf } from './held-nets.ts';

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
    const search = { limit, without: new Set([crossing.part, ...without]), timers: statesOf([crossing]) };
    let found: Found | undefined;
    const consider = (ends: Ends): void => {
      const path = this.#driven(crossing, ends, limit);
      if (path !== undefined && path.spare > (found?.spare ?? -Infinity)) found = path;
    };
    for (const island of this.#held.islands) {
      const ups = this.#ends(crossing.from, true, { ...search, island, avoided: [crossing.to] });
      const downs =
        ups.size === 0 ? ups : this.#ends(crossing.to, false, { ...search, island, avoided: [crossing.from] });
      for (const [upper, up] of ups) {
        for (const [lower, down] of downs) {
          const ends = { upper, up, lower, down };
          // The two best ways, if they go together, are the best pair; otherwise they tell what no pair can exceed.
          if (areApart(up, down)) consider(ends);
          else if ((this.#driven(crossing, ends, limit)?.spare ?? -Infinity) > (found?.spare ?? -Infinity)) {
            const below = { ...search, island, avoided: netsOf(up), timers: statesOf([crossing, ...linksOf(up)]) };
            const besideUp = this.#ends(crossing.to, false, below).get(lower);
            if (besideUp !== undefined) consider({ ...ends, down: besideUp });
            const above = { ...search, island, avoided: netsOf(down), timers: statesOf([crossing, ...linksOf(down)]) };
            const besideDown = this.#ends(crossing.from, true, above).get(upper);
            if (besideDown !== undefined) consider({ ...ends, up: besideDown });
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

  #driven(crossing: ConductingLink, { upper, up, lower, down }: Ends, limit: number): Found | undefined {
    const source = this.#held.between(upper, lower);
    if (source === undefined) return undefined;
    // A way leads from the part to the source; upwards that is against the current.
    const before = linksOf(up);
    const after = linksOf(down).reverse();
    const links = [...before, crossing, ...after];
    const drop = links.reduce((sum, link) => sum + link.drop, 0);
    const resistance = links.reduce((sum, link) => sum + link.resistance, 0);
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
    const open = new Map<string, Way>([[start, { needed: 0, net: start }]]);
    for (;;) {
      const way = takeNearest(open);
      if (way === undefined) return ends;
      const { net } = way;
      done.add(net);
      if (this.#held.islandOf(net) === island) {
        ends.set(net, way);
        continue;
      }
      for (const link of links.get(net) ?? []) {
        const next = upwards ? link.from : link.to;
        if (done.has(next) || without.has(link.part)) continue;
        // A current source that stays below the limit carries none of the currents in question.
        if (limit > 0 && link.most <= limit) continue;
        const needed = way.needed + link.resistance * limit + link.drop;
        if (needed >= (open.get(next)?.needed ?? Infinity)) continue;
        if (link.output !== undefined && !(goesWith(link, timers) && goesWith(link, statesOf(linksOf(way))))) continue;
        open.set(next, { needed, net: next, step: { link, before: way } });
      }
    }
  }
}

/** A way from the part to a net, step by step back to where it starts. */
interface Way {
  /** Voltage that drives the limit current along it (V). */
  readonly needed: number;
  readonly net: string;
  readonly step?: { readonly link: ConductingLink; readonly before: Way };
}

interface Ends {
  readonly upper: string;
  readonly up: Way;
  readonly lower: string;
  readonly down: Way;
}

type Found = DrivenPath & {
  /** Voltage left when the limit current flows (V). */
  readonly spare: number;
};

interface Search {
  readonly limit: number;
  readonly without: ReadonlySet<string>;
  readonly island: string;
  readonly avoided: readonly string[];
  readonly timers: ReadonlyMap<string, 'high' | 'low'>;
}

/** The links of a way, from its end back to its start. */
function linksOf(way: Way): ConductingLink[] {
  const links: ConductingLink[] = [];
  for (let { step } = way; step !== undefined; { step } = step.before) links.push(step.link);
  return links;
}

/** Every net of a way, from its end back to its start. */
function netsOf(way: Way): string[] {
  const nets = [way.net];
  for (let { step } = way; step !== undefined; { step } = step.before) nets.push(step.before.net);
  return nets;
}

/** Whether two ways have no net in common and no timer's output as high and as low. */
function areApart(up: Way, down: Way): boolean {
  const nets = new Set(netsOf(up));
  const states = statesOf(linksOf(up));
  return netsOf(down).every((net) => !nets.has(net)) && linksOf(down).every((link) => goesWith(link, states));
}

/** Whether a link conducts while the outputs of timers are so. */
function goesWith({ part, output }: ConductingLink, states: ReadonlyMap<string, 'high' | 'low'>): boolean {
  return output === undefined || (states.get(part) ?? output) === output;
}

/** What the outputs of timers must be for these links to conduct. */
function statesOf(links: readonly ConductingLink[]): Map<string, 'high' | 'low'> {
  return new Map(links.flatMap(({ part, output }) => (output === undefined ? [] : [[part, output] as const])));
}

/** Sources as links: on a way between nets of one island, sources of another help or hinder the current. */
function sourceLinks(circuit: Circuit, held: HeldNets): ConductingLink[] {
  return circuit.parts.flatMap((part): ConductingLink[] => {
    const { minus } = part.nets;
    if ((part.kind !== 'supply' && part.kind !== 'signal') || minus === undefined) return [];
    const plus = insideOf(part);
    const made = held.between(plus, minus);
    if (made === undefined) return [];
    const link = { part: part.name, resistance: 0, most: Infinity, through: 'source' } as const;
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

/** Removes and returns the way that needs the least voltage. */
function takeNearest(open: Map<string, Way>): Way | undefined {
  let nearest: Way | undefined;
  for (const way of open.values()) {
    if (nearest === undefined || way.needed < nearest.needed) nearest = way;
  }
  if (nearest !== undefined) open.delete(nearest.net);
  return nearest;
}
