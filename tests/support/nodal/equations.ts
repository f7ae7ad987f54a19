import { dot } from './linear.ts';
import { LongRow, long, negative, quotient, reciprocal, solveRows, unitRow } from './long-row.ts';
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
 * local time, and w' = rate y. What is slow comes out of differences of what is fast, so rate is in some 32 digits.
 */
export interface Equations {
  readonly size: number;
  readonly rate: readonly LongRow[];
  /** Row of the voltage from one node to another, without what both float by. */
  between(a: number, b: number): readonly number[];
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
  const unit = (index: number): LongRow => unitRow(width, index);
  const groupRow = new Map<number, LongRow>();
  for (const each of free) {
    const row = unit(charged.indexOf(each));
    const float = floating.indexOf(cluster[each]!);
    if (float >= 0) row.set(n + float, long(1));
    groupRow.set(each, row);
  }
  const ground = groups.offsetOf(0);
  const full = group.map((each, node) => {
    const row = groupRow.get(each)?.copy() ?? unit(-1);
    const own = groups.offsetOf(node);
    // Offsets count from the root; in ground's group ground itself is 0 V.
    const base = each === group[0] ? ground : { level: 0, slope: 0 };
    return row.addAt(n + m, long(own.level - base.level)).addAt(n + m + 1, long(own.slope - base.slope));
  });

  // Currents out of each group through branches.
  const out = new Map(free.map((each) => [each, unit(-1)]));
  const currentOf = ({ a, b, section, level, slope, control }: ActiveBranch): LongRow => {
    const { ohms, volts, amperes } = section;
    const current = unit(-1);
    if (control !== undefined) {
      return current.addTimes(currentOf(branches[control.by]!), long(control.gain));
    }
    if (ohms < Infinity) {
      const conductance = reciprocal(ohms);
      current.addTimes(full[a]!, conductance).addTimes(full[b]!, negative(conductance));
      current.addAt(n + m, quotient(long(-(volts + level)), long(ohms)));
      current.addAt(n + m + 1, quotient(long(-slope), long(ohms)));
    }
    return current.addAt(n + m, long(amperes));
  };
  for (const branch of branches) {
    const { a, b, section, control } = branch;
    if ((section.ohms === 0 && control === undefined) || group[a] === group[b]) continue;
    const current = currentOf(branch);
    const [from, to] = [out.get(group[a]!), out.get(group[b]!)];
    from?.addTimes(current, long(1));
    to?.addTimes(current, long(-1));
  }

  const kept = [...Array.from({ length: n }, (_, k) => k), n + m, n + m + 1];
  let reduce = (row: LongRow): LongRow => row.pick(kept);
  if (m > 0) {
    const sums = floating.map((root) => {
      const sum = unit(-1);
      for (const each of free) if (cluster[each] === root) sum.addTimes(out.get(each)!, long(1));
      return sum;
    });
    const places = floating.map((_, k) => n + k);
    const solve = (leak: number): LongRow[] =>
      solveRows(
        sums.map((sum, k) => sum.pick(places).addAt(k, long(leak))),
        sums.map((sum) => new LongRow(n + 2).addTimes(sum.pick(kept), long(-1))),
      );
    let floats: LongRow[];
    try {
      floats = solve(0);
    } catch {
      // A pin between two blocked stages: the slightest leak says where it goes, and a stage takes it up.
      floats = solve(LEAK);
    }
    reduce = (row) => {
      const reduced = row.pick(kept);
      floats.forEach((float, k) => reduced.addTimes(float, row.at(n + k)));
      return reduced;
    };
  }

  const exactly = (a: number, b: number): LongRow => reduce(full[a]!.copy().addTimes(full[b]!, long(-1)));
  const across = capacitors.map(({ a, b }) => exactly(a, b));
  const asked = new Map<string, readonly number[]>();
  const charge = charged.map((each) => chargeRow(each, group, capacitors, across, n + 2));
  const elastance = (): LongRow[] => charge.map((row) => row.pick(kept.slice(0, n)));
  const rate = solveRows(
    elastance(),
    charged.map((each, k) => {
      const into = new LongRow(n + 2).addTimes(reduce(out.get(each)!), long(-1));
      return into.addAt(n, negative(charge[k]!.at(n + 1)));
    }),
  );
  return {
    size: n,
    rate,
    between(a, b) {
      const row = asked.get(`${a} ${b}`) ?? exactly(a, b).nearest();
      asked.set(`${a} ${b}`, row);
      return row;
    },
    holds: `${group.join()} ${cluster.join()}`,
    start(volts) {
      const target = charged.map((each, k) => {
        const total = LongRow.of([negative(charge[k]!.at(n))]);
        capacitors.forEach(({ a, b, farads }, c) => {
          if (group[a] === group[b]) return;
          const brought = LongRow.of([long(volts[c]!)]);
          if (group[a] === each) total.addTimes(brought, long(farads));
          if (group[b] === each) total.addTimes(brought, long(-farads));
        });
        return total;
      });
      return [...solveRows(elastance(), target).map(({ high: [value] }) => value!), 1, 0];
    },
  };
}

/** The charge on the capacitors of a group as a row over y. */
function chargeRow(
  each: number,
  group: readonly number[],
  capacitors: readonly NodalCapacitor[],
  across: readonly LongRow[],
  width: number,
): LongRow {
  const row = new LongRow(width);
  capacitors.forEach(({ a, b, farads }, c) => {
    if (group[a] === group[b]) return;
    const sign = group[a] === each ? 1 : group[b] === each ? -1 : 0;
    if (sign !== 0) row.addTimes(across[c]!, long(sign * farads));
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
