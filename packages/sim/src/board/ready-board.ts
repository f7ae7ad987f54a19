import type { Circuit, CircuitData } from '../circuit/description.ts';
import type { Unit } from '../quantity/index.ts';
import type { BoardLayout } from './board-layout.ts';

/** A rule of thumb for one number of a ready board. It is worked out from part values alone, never from a run. */
export interface Prediction {
  /** Name of the number, for example `interval`. */
  readonly name: string;
  /** The rule as people write it, with the board's part names. */
  readonly formula: string;
  /** Null for plain numbers such as a ratio. */
  readonly unit: Unit | null;
  /** Where the rule comes from. */
  readonly source: string;
  /** The reading of a run that gives the same number: `width(out)`. */
  readonly reading: string;
  /** The values the rule needs, as part and field: `R1.resistance`, `G1.wave.period`. */
  readonly uses: readonly string[];
  /**
   * The rule itself, on the values of `uses` in that order, in SI units.
   *
   * @returns the number in `unit`, or `null` where the rule gives none.
   */
  readonly rule: (...values: number[]) => number | null;
}

/** A value of a ready board that is meant to be changed. */
export interface NamedValue {
  /** Part, or part and field where it is not the part's main value: `R1`, `G1.wave.period`. */
  readonly name: string;
  /** What it is, in a few words. */
  readonly title: string;
}

/** A circuit that is ready to use, as plain data: what may be changed on it, and what the textbooks say it does. */
export interface ReadyBoard {
  /** Name in documents, for example `frequency divider`. */
  readonly name: string;
  /** One or two sentences: what the board does. */
  readonly purpose: string;
  readonly circuit: CircuitData;
  readonly layout: BoardLayout;
  readonly values: readonly NamedValue[];
  readonly textbook: readonly Prediction[];
}

/** What a rule of thumb says of a circuit with the given values. */
export interface PredictedValue {
  readonly name: string;
  readonly formula: string;
  readonly value: number | null;
  readonly unit: Unit | null;
  readonly source: string;
  /** The reading of a run that gives the same number. */
  readonly reading: string;
}

/**
 * Applies a ready board's rules of thumb to a circuit made from it.
 *
 * @param circuit the board's circuit after `checkCircuit`, part names unchanged.
 * @returns one row a rule; `value` is `null` where a value is missing or the rule gives none.
 */
export function predictBoard(board: ReadyBoard, circuit: Circuit): PredictedValue[] {
  return board.textbook.map(({ name, formula, unit, source, reading, uses, rule }) => {
    const values = uses.map((path) => numberAt(circuit, path));
    const found = values.filter((value) => value !== undefined);
    const predicted = found.length === uses.length ? rule(...found) : null;
    const value = predicted !== null && Number.isFinite(predicted) ? predicted : null;
    return { name, formula, value, unit, source, reading };
  });
}

function numberAt(circuit: Circuit, path: string): number | undefined {
  const [name, ...steps] = path.split('.');
  let found: unknown = circuit.parts.find((part) => part.name === name)?.values;
  for (const step of steps) {
    if (typeof found !== 'object' || found === null || !Object.hasOwn(found, step)) return undefined;
    found = (found as Record<string, unknown>)[step];
  }
  return typeof found === 'number' ? found : undefined;
}
