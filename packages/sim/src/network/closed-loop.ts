import type { Network } from './element.ts';
import type { Port } from './ports.ts';
import type { Reduced } from './reduce.ts';
import type { Tree } from './tree.ts';

/** What the controls of a mode carry once what they control acts upon them. */
export interface ClosedLoop {
  /** Current of each control as a row on w, with w as in `Tree` (A). */
  readonly currents: readonly Float64Array[];
  /** p of each component as a row on w, as in `Reduced`. */
  readonly offsets: Float64Array;
  /** Whether these currents are the only ones that satisfy all laws, whichever of the controls conduct. */
  readonly unique: boolean;
}

const EPSILON = Number.EPSILON;
/** Looking at all sets of controls doubles with each of them; more than so many are only looked at as a whole. */
const MOST_SETS = 10;

/**
 * The currents q of the controls, from the voltages v that they find while nothing is controlled and from what each
 * ampere of them, with what it controls, does to these: v - H q = 0 beyond the controls' own laws. With one control H is
 * above zero for any network of resistances: a current into collector and base lowers the base above the emitter. With
 * several, all principal minors of H must be above zero for the currents to be unique (Samelson, Thrall and Wesler 1958).
 */
export function closeLoop({ branches }: Network, tree: Tree, ports: readonly Port[], reduced: Reduced): ClosedLoop {
  const { width, component, componentCount, potential, states } = tree;
  const { offsets, responses } = reduced;
  const found = ports.map(({ control, law }) => {
    const { a, b } = branches[control]!;
    const row = new Float64Array(width);
    for (let j = 0; j < width; j++) {
      const above = [potential[a * width + j]!, offsets[component[a]! * width + j]!];
      const below = [potential[b * width + j]!, offsets[component[b]! * width + j]!];
      const own = (j === width - 1 ? law.offset : 0) + (law.input >= 0 && j === states.length + law.input ? 1 : 0);
      row[j] = difference(above, [...below, own]);
    }
    return row;
  });
  const h = ports.map(({ control, law }, k) => {
    const { a, b } = branches[control]!;
    return responses.map(
      ({ lift }, l) => (k === l ? law.resistance : 0) - (lift[component[a]!]! - lift[component[b]!]!),
    );
  });
  const currents = solved(h, found);
  const closed = offsets.slice(0, componentCount * width);
  for (let c = 1; c < componentCount; c++) {
    responses.forEach(({ lift }, l) => {
      for (let j = 0; j < width; j++) closed[c * width + j]! += lift[c]! * currents[l]![j]!;
    });
  }
  return { currents, offsets: closed, unique: allMinorsPositive(h, h.length > MOST_SETS) };
}

/** The sum of some numbers less that of others, where what cancels to rounding is zero. */
function difference(above: readonly number[], below: readonly number[]): number {
  let value = 0;
  let size = 0;
  for (const number of above) {
    value += number;
    size += Math.abs(number);
  }
  for (const number of below) {
    value -= number;
    size += Math.abs(number);
  }
  return Math.abs(value) <= 8 * EPSILON * size ? 0 : value;
}

/** H^-1 applied to rows, by elimination with row pivoting; not finite where H is singular. */
function solved(h: readonly (readonly number[])[], rows: readonly Float64Array[]): Float64Array[] {
  const a = h.map((row) => [...row]);
  const x = rows.map((row) => row.slice());
  const m = a.length;
  for (let column = 0; column < m; column++) {
    let best = column;
    for (let i = column + 1; i < m; i++) if (Math.abs(a[i]![column]!) > Math.abs(a[best]![column]!)) best = i;
    [a[column], a[best]] = [a[best]!, a[column]!];
    [x[column], x[best]] = [x[best]!, x[column]!];
    const pivot = a[column]![column]!;
    for (let i = 0; i < m; i++) {
      const factor = i === column ? 0 : a[i]![column]! / pivot;
      if (factor === 0) continue;
      for (let j = column; j < m; j++) a[i]![j]! -= factor * a[column]![j]!;
      for (let j = 0; j < x[i]!.length; j++) x[i]![j]! -= factor * x[column]![j]!;
    }
  }
  return x.map((row, k) => row.map((value) => value / a[k]![k]!));
}

/**
 * Whether all principal minors are above zero: those without the first row and column, and those with it, which are those
 * of what is left when it is eliminated (Tsatsomeros and Li 2000). With `leading`, only the leading ones.
 */
function allMinorsPositive(a: readonly (readonly number[])[], leading: boolean): boolean {
  if (a.length === 0) return true;
  const [first, ...others] = a;
  const pivot = first![0]!;
  if (!(pivot > 0)) return false;
  const without = others.map((row) => row.slice(1));
  const eliminated = others.map((row) => row.slice(1).map((value, j) => value - (row[0]! / pivot) * first![j + 1]!));
  return (leading || allMinorsPositive(without, false)) && allMinorsPositive(eliminated, leading);
}
