import { addTo, dot, solveRows } from './linear.ts';
import type { NodalCapacitor, NodalModel, Section } from './model.ts';

/** A branch as it is now: its ends and section, and what its source adds to the section's volts at local time 0 and per s. */
export interface ActiveBranch {
  readonly a: number;
  readonly b: number;
  readonly section: Section;
  readonly level: number;
  readonly slope: number;
  /** In place of the section: so many times the current of another branch. */
  readonly control?: { readonly by: number; readonly gain: number } | undefined;
}

/**
 * The equations of one mode. Everything is a row over y = [w, 1, t]: w are voltages of nets that capacitors hold, t is
 * local time, and w' = rate y.
 */
export interface Equations {
  readonly size: number;
  readonly rate: readonly (readonly number[])[];
  /** Row of each node's voltage. */
  readonly nodes: readonly (readonly number[])[];
  /** Row of the voltage from one node to another, without what both float by. */
  between(a: number, b: number): number[];
  /** Which nets and clusters w are the voltages of: the same w mean the same in equations of the same text. */
  readonly holds: string;
  /** y at local time 0 when the capacitors bring these voltages: charge on every net is kept. */
  start(volts: readonly number[]): number[];
}

/** Conductance to ground of what nothing else holds (S). */
const LEAK = 1e-15;

/** Two sources without resistance that contradict each other. */
class Short extends Error {}

/**
 * Kirchhoff's current law, net by net. Nodes that 0 ohms join are one group. Groups that capacitors join are a cluster:
 * one that reaches ground has all its voltages held by charge, any other one floats by a voltage for which the currents
 * into the cluster as a whole add up to nothing.
 */
export function equationsOf(model: NodalModel, branches: readonly ActiveBranch[]): Equations {
  const { nodeCount, capacitors } = model;
  const groups = new WeightedGroups(nodeCount);
  for (const { a, b, section, level, slope } of branches) {
    if (section.ohms === 0) groups.join(a, b, section.volts + level, slope);
  }
  const group = Array.from({ length: nodeCount }, (_, node) => groups.rootOf(node));
  const clusters = new WeightedGroups(nodeCount);
  for (const { a, b } of capacitors) clusters.join(group[a]!, group[b]!, 0, 0);
  const cluster = group.map((each) => clusters.rootOf(each));
  const held = clusters.rootOf(group[0]!);

  // A floating cluster's own voltage is that of its root group; the other free groups have a charge each.
  const free = [...new Set(group)].filter((each) => each !== group[0]);
  const charged = free.filter((each) => cluster[each] === held || cluster[each] !== each);
  const floating = free.filter((each) => cluster[each] !== held && cluster[each] === each);
  const [n, m] = [charged.length, floating.length];
  const width = n + m + 2;
  const unit = (index: number): number[] => {
    const row = new Array<number>(width).fill(0);
    if (index >= 0) row[index] = 1;
    return row;
  };
  const groupRow = new Map<number, number[]>();
  for (const each of free) {
    const row = unit(charged.indexOf(each));
    const float = floating.indexOf(cluster[each]!);
    if (float >= 0) row[n + float] = 1;
    groupRow.set(each, row);
  }
  const ground = groups.offsetOf(0);
  const full = group.map((each, node) => {
    const row = groupRow.get(each)?.slice() ?? unit(-1);
    const own = groups.offsetOf(node);
    // Offsets count from the root; in ground's group ground itself is 0 V.
    const base = each === group[0] ? ground : { level: 0, slope: 0 };
    row[n + m]! += own.level - base.level;
    row[n + m + 1]! += own.slope - base.slope;
    return row;
  });

  // Currents out of each group through branches.
  const out = new Map(free.map((each) => [each, unit(-1)]));
  const currentOf = ({ a, b, section, level, slope, control }: ActiveBranch): number[] => {
    const { ohms, volts, amperes } = section;
    const current = unit(-1);
    if (control !== undefined) {
      addTo(current, currentOf(branches[control.by]!), control.gain);
      return current;
    }
    if (ohms < Infinity) {
      addTo(current, full[a]!, 1 / ohms);
      addTo(current, full[b]!, -1 / ohms);
      current[n + m]! -= (volts + level) / ohms;
      current[n + m + 1]! -= slope / ohms;
    }
    current[n + m]! += amperes;
    return current;
  };
  for (const branch of branches) {
    const { a, b, section, control } = branch;
    if ((section.ohms === 0 && control === undefined) || group[a] === group[b]) continue;
    const current = currentOf(branch);
    const [from, to] = [out.get(group[a]!), out.get(group[b]!)];
    if (from) addTo(from, current, 1);
    if (to) addTo(to, current, -1);
  }

  const kept = [...Array.from({ length: n }, (_, k) => k), n + m, n + m + 1];
  let reduce = (row: readonly number[]): number[] => kept.map((k) => row[k]!);
  if (m > 0) {
    const sums = floating.map((root) => {
      const sum = unit(-1);
      for (const each of free) if (cluster[each] === root) addTo(sum, out.get(each)!, 1);
      return sum;
    });
    const solve = (leak: number): number[][] =>
      solveRows(
        sums.map((sum, k) => sum.slice(n, n + m).map((value, column) => value + (column === k ? leak : 0))),
        sums.map((sum) => kept.map((k) => -sum[k]!)),
      );
    let floats: number[][];
    try {
      floats = solve(0);
    } catch {
      // A pin between two blocked stages: the slightest leak says where it goes, and a stage takes it up.
      floats = solve(LEAK);
    }
    reduce = (row) => {
      const reduced = kept.map((k) => row[k]!);
      floats.forEach((float, k) => addTo(reduced, float, row[n + k]!));
      return reduced;
    };
  }

  const nodes = full.map(reduce);
  const between = (a: number, b: number): number[] => reduce(full[a]!.map((value, k) => value - full[b]![k]!));
  const across = capacitors.map(({ a, b }) => between(a, b));
  const charge = charged.map((each) => chargeRow(each, group, capacitors, across, n + 2));
  const elastance = (): number[][] => charge.map((row) => row.slice(0, n));
  const rate = solveRows(
    elastance(),
    charged.map((each, k) => {
      const row = reduce(out.get(each)!).map((value) => -value);
      row[n]! -= charge[k]![n + 1]!;
      return row;
    }),
  );
  return {
    size: n,
    rate,
    nodes,
    between,
    holds: `${group.join()} ${cluster.join()}`,
    start(volts) {
      const target = charged.map((each, k) => {
        let total = -charge[k]![n]!;
        capacitors.forEach(({ a, b, farads }, c) => {
          if (group[a] === group[b]) return;
          if (group[a] === each) total += farads * volts[c]!;
          if (group[b] === each) total -= farads * volts[c]!;
        });
        return [total];
      });
      return [...solveRows(elastance(), target).map(([value]) => value!), 1, 0];
    },
  };
}

/** The charge on the capacitors of a group as a row over y. */
function chargeRow(
  each: number,
  group: readonly number[],
  capacitors: readonly NodalCapacitor[],
  across: readonly (readonly number[])[],
  width: number,
): number[] {
  const row = new Array<number>(width).fill(0);
  capacitors.forEach(({ a, b, farads }, c) => {
    if (group[a] === group[b]) return;
    const sign = group[a] === each ? 1 : group[b] === each ? -1 : 0;
    if (sign !== 0) addTo(row, across[c]!, sign * farads);
  });
  return row;
}

/** Voltages of all capacitors at y. */
export function capacitorVolts(model: NodalModel, equations: Equations, y: readonly number[]): number[] {
  return model.capacitors.map(({ a, b }) => dot(equations.between(a, b), y));
}

/** Nodes joined with known voltages between them. */
class WeightedGroups {
  private readonly root: number[];
  private readonly level: number[];
  private readonly slope: number[];

  constructor(count: number) {
    this.root = Array.from({ length: count }, (_, node) => node);
    this.level = new Array<number>(count).fill(0);
    this.slope = new Array<number>(count).fill(0);
  }

  rootOf(node: number): number {
    return this.root[node]!;
  }

  /** Voltage of a node above its root. */
  offsetOf(node: number): { level: number; slope: number } {
    return { level: this.level[node]!, slope: this.slope[node]! };
  }

  /** v(a) = v(b) + level + slope t. */
  join(a: number, b: number, level: number, slope: number): void {
    const lift = this.level[b]! + level - this.level[a]!;
    const lean = this.slope[b]! + slope - this.slope[a]!;
    const [from, to] = [this.root[a]!, this.root[b]!];
    if (from === to) {
      if (lift !== 0 || lean !== 0)
        throw new Short('nodal equations: sources without resistance contradict each other');
      return;
    }
    for (let node = 0; node < this.root.length; node++) {
      if (this.root[node] !== from) continue;
      this.root[node] = to;
      this.level[node]! += lift;
      this.slope[node]! += lean;
    }
  }
}
