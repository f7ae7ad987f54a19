import type { Law, Network } from './element.ts';
import type { Tree } from './tree.ts';

/** A conductance (S) between two components: drop = p(from) - p(to) + drop . w, with w as in `Tree`. */
interface Conductor {
  readonly from: number;
  readonly to: number;
  readonly conductance: number;
  readonly drop: Float64Array;
}

/** What is left of the resistive part of a mode once all unknown potentials are eliminated. */
export interface Reduced {
  /** Conductances (S) and their drops on w; the power lost is the sum of conductance (drop . w)^2. */
  readonly conductors: readonly { readonly conductance: number; readonly drop: Float64Array }[];
  /** Constant currents as forces on w (A): their power is `force . w`, up to what the conductors' nodes take. */
  readonly force: Float64Array;
  /** p of each component as a row on w. */
  readonly offsets: Float64Array;
}

/**
 * Eliminates the potentials of all components but ground's by star-mesh transforms. Each step only adds, multiplies and
 * divides positive conductances, so that every remaining conductance is accurate to a few rounding units however far
 * apart the resistances are (the same reason for which Grassmann, Taksar and Heyman 1985 avoid subtraction): a 10 ohm
 * switch beside a 10 Mohm resistor costs no digits of the slow rate.
 */
export function eliminateComponents(network: Network, laws: readonly Law[], tree: Tree): Reduced {
  const { width, component, potential, componentCount } = tree;
  const n = tree.states.length;
  const force = new Float64Array(width);
  /** Constant current that leaves each component's node (A). */
  const outflow = new Float64Array(componentCount);
  let open: Conductor[] = [];
  const done: { conductance: number; drop: Float64Array }[] = [];
  const keep = (conductor: Conductor): void => {
    if (conductor.from === conductor.to) {
      if (conductor.drop.some((entry) => entry !== 0)) done.push(conductor);
    } else open.push(conductor);
  };

  network.branches.forEach((branch, index) => {
    const law = laws[index]!;
    const difference = (): Float64Array => {
      const row = new Float64Array(width);
      for (let j = 0; j < width; j++) {
        row[j] = potential[branch.a * width + j]! - potential[branch.b * width + j]!;
      }
      return row;
    };
    const from = component[branch.a]!;
    const to = component[branch.b]!;
    if (law.kind === 'thevenin' && law.resistance > 0) {
      const drop = difference();
      if (law.input >= 0) drop[n + law.input]! -= 1;
      drop[width - 1]! -= law.offset;
      keep({ from, to, conductance: 1 / law.resistance, drop });
    } else if (law.kind === 'current') {
      const row = difference();
      for (let j = 0; j < width; j++) force[j]! += law.current * row[j]!;
      outflow[from]! += law.current;
      outflow[to]! -= law.current;
    }
  });

  const steps: { component: number; share: { to: number; part: number; drop: Float64Array }[]; own: number }[] = [];
  for (let eliminated = componentCount - 1; eliminated > 0; eliminated--) {
    const star = open
      .filter((conductor) => conductor.from === eliminated || conductor.to === eliminated)
      .map((conductor) =>
        conductor.from === eliminated
          ? conductor
          : {
              from: eliminated,
              to: conductor.from,
              conductance: conductor.conductance,
              drop: conductor.drop.map((x) => -x),
            },
      );
    open = open.filter((conductor) => conductor.from !== eliminated && conductor.to !== eliminated);
    const total = star.reduce((sum, conductor) => sum + conductor.conductance, 0);
    const share = star.map(({ to, conductance, drop }) => ({ to, part: conductance / total, drop }));
    const own = total > 0 ? -outflow[eliminated]! / total : 0;
    steps.push({ component: eliminated, share, own });
    for (const { to, part, drop } of share) {
      outflow[to]! += outflow[eliminated]! * part;
      for (let j = 0; j < width; j++) force[j]! -= outflow[eliminated]! * part * drop[j]!;
    }
    for (let j = 0; j < star.length; j++) {
      for (let k = j + 1; k < star.length; k++) {
        const one = star[j]!;
        const other = star[k]!;
        keep({
          from: one.to,
          to: other.to,
          conductance: (one.conductance * other.conductance) / total,
          drop: other.drop.map((x, i) => x - one.drop[i]!),
        });
      }
    }
  }

  const offsets = new Float64Array(componentCount * width);
  for (const { component: at, share, own } of steps.reverse()) {
    offsets[at * width + width - 1] = own;
    for (const { to, part, drop } of share) {
      for (let j = 0; j < width; j++) offsets[at * width + j]! += part * (offsets[to * width + j]! - drop[j]!);
    }
  }
  return { conductors: merge(done), force, offsets };
}

/** Conductors with the same drop are parallel: their conductances add. */
function merge(conductors: readonly { conductance: number; drop: Float64Array }[]): Reduced['conductors'] {
  const merged = new Map<string, { conductance: number; drop: Float64Array }>();
  for (const { conductance, drop } of conductors) {
    const key = drop.join(' ');
    const same = merged.get(key);
    if (same) same.conductance += conductance;
    else merged.set(key, { conductance, drop });
  }
  return [...merged.values()];
}
