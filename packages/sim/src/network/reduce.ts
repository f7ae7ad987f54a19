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
 * switch beside a 10 Mohm resistor costs no digits of the slow rate. Between two components there is never more than one
 * conductor, so a mesh of many resistors stays small.
 */
export function eliminateComponents(network: Network, laws: readonly Law[], tree: Tree): Reduced {
  const { width, component, potential, componentCount } = tree;
  const n = tree.states.length;
  const force = new Float64Array(width);
  /** Constant current that leaves each component's node (A). */
  const outflow = new Float64Array(componentCount);
  const mesh = new Mesh(componentCount);

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
      mesh.add({ from, to, conductance: 1 / law.resistance, drop });
    } else if (law.kind === 'current') {
      const row = difference();
      for (let j = 0; j < width; j++) force[j]! += law.current * row[j]!;
      outflow[from]! += law.current;
      outflow[to]! -= law.current;
    }
  });

  const steps: { component: number; share: { to: number; part: number; drop: Float64Array }[]; own: number }[] = [];
  for (let eliminated = componentCount - 1; eliminated > 0; eliminated--) {
    const star = mesh.takeStar(eliminated);
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
        mesh.add({
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
  return { conductors: merge(mesh.loops), force, offsets };
}

/** Conductors between components, one per pair, and those that lead from a component back to itself. */
class Mesh {
  readonly loops: { conductance: number; drop: Float64Array }[] = [];
  private readonly between: (Conductor | undefined)[][];

  constructor(count: number) {
    this.between = Array.from({ length: count }, () => new Array<Conductor | undefined>(count));
  }

  /**
   * Adds a conductor. Two between the same components, g1 (x + d1)^2 + g2 (x + d2)^2, are one that sees the weighted mean
   * of their drops and one that sees the difference alone: (g1 + g2) (x + d)^2 + g1 g2 / (g1 + g2) (d1 - d2)^2.
   */
  add(conductor: Conductor): void {
    if (conductor.from === conductor.to) {
      if (conductor.drop.some((entry) => entry !== 0)) this.loops.push(conductor);
      return;
    }
    const added = conductor.from < conductor.to ? conductor : reversed(conductor);
    const row = this.between[added.from]!;
    const there = row[added.to];
    if (!there) {
      row[added.to] = added;
      return;
    }
    // Counted from the larger one, so that its drop keeps all digits beside a tiny share of the other.
    const [more, less] = there.conductance < added.conductance ? [added, there] : [there, added];
    const conductance = more.conductance + less.conductance;
    const difference = more.drop.map((x, j) => less.drop[j]! - x);
    const share = less.conductance / conductance;
    row[added.to] = { ...more, conductance, drop: more.drop.map((x, j) => x + share * difference[j]!) };
    if (difference.some((x) => x !== 0)) this.loops.push({ conductance: more.conductance * share, drop: difference });
  }

  /** Takes out all conductors of a component that has a higher number than all left, each turned to start from it. */
  takeStar(component: number): Conductor[] {
    return this.between.slice(0, component).flatMap((row) => {
      const conductor = row[component];
      row[component] = undefined;
      return conductor ? [reversed(conductor)] : [];
    });
  }
}

function reversed({ from, to, conductance, drop }: Conductor): Conductor {
  return { from: to, to: from, conductance, drop: drop.map((x) => -x) };
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
