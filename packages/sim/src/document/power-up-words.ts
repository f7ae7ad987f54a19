import type { Circuit } from '../circuit/description.ts';
import { formatQuantity, withMinus } from '../quantity/index.ts';
import { compareStarts, OutputHistory, otherStart, powerUpRace, raceWords } from '../run/power-up.ts';
import { runCircuit } from '../run/simulate.ts';
import type { RunPlan } from './run-plan.ts';
import type { ReadingResult } from './results.ts';

/** Readings that differ by less, as a share, are the same. */
const SAME = 1e-9;

/** How the start of a run is looked at: what watches the run itself, and what to do when it is over. */
export interface PowerUp {
  readonly observers: readonly OutputHistory[];
  /** Runs from the other start where one is asked for; sentences about what the start decides, for all cells of the run. */
  words(limits: { until: number; maxEvents: number; signal?: { readonly aborted: boolean } | undefined }): {
    readonly board: readonly string[];
    /** The cell's own readings that differ, in a sentence; undefined where none do. */
    ofCell(index: number, result: object): string | undefined;
  };
}

/**
 * Prepares to look at both starts of a circuit.
 *
 * @param replan plans the cells of the run anew, in their order, for the run from the other start.
 */
export function powerUp(circuit: Circuit, replan: () => readonly RunPlan[]): PowerUp {
  const race = raceWords(powerUpRace(circuit));
  const board = race === undefined ? [] : [race];
  const other = otherStart(circuit);
  if (other === undefined) return { observers: [], words: () => ({ board, ofCell: () => undefined }) };
  const history = new OutputHistory();
  return {
    observers: [history],
    words({ until, maxEvents, signal }) {
      const second = new OutputHistory();
      const plans = replan();
      const observers = [second, ...plans.flatMap((plan) => plan.observers)];
      const outcome = runCircuit(other, { until, maxEvents, signal, observers });
      if (!outcome.ok) {
        return {
          board: [...board, `The run from the other start stopped: ${outcome.message}`],
          ofCell: () => undefined,
        };
      }
      return {
        board: [...board, compareStarts(circuit, history, second, until).sentence],
        ofCell: (index, result) => differingReadings(result, plans[index]?.result()),
      };
    },
  };
}

function differingReadings(cleared: object, set: object | undefined): string | undefined {
  if (!isReading(cleared) || set === undefined || !isReading(set)) return undefined;
  const differing = Object.keys(cleared.values).flatMap((name) => {
    const [first, second] = [cleared.values[name], set.values[name]];
    if (isSame(first, second)) return [];
    if (Array.isArray(first) && Array.isArray(second)) return [`another list in ${name}`];
    const text = (value: unknown): string => valueText(value, cleared.units[name] ?? set.units[name] ?? null);
    return [`${name} ${text(second)} instead of ${text(first)}`];
  });
  if (differing.length === 0) return 'No reading depends on the start.';
  return `Set at the start it reads: ${differing.join(', ')}.`;
}

function isReading(result: object): result is ReadingResult {
  return 'kind' in result && result.kind === 'reading';
}

function isSame(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') {
    return Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b));
  }
  return JSON.stringify(a) === JSON.stringify(b);
}

function valueText(value: unknown, unit: ReadingResult['units'][string]): string {
  if (typeof value === 'number')
    return unit === null ? withMinus(String(Number(value.toPrecision(6)))) : formatQuantity(value, unit);
  return value === null ? 'no value' : 'a list';
}
