import type { ParsedReading } from '../measure/parse-reading.ts';
import { readingObserver } from '../measure/reading-observer.ts';
import type { Unit } from '../quantity/index.ts';
import type { RunNames } from './cell-names.ts';
import type { ReadingCell } from './notebook-document.ts';
import type { ReadingResult } from './results.ts';
import type { Faultless, RunPlan } from './run-plan.ts';

/** Plans a reading cell. @param readings its readings, checked, names as in the circuit. */
export function planReading(
  cell: ReadingCell,
  readings: ReadonlyMap<string, ParsedReading>,
  names: RunNames,
): RunPlan<Faultless<ReadingResult>> {
  const { from, until } = cell;
  const taken = [...readings].map(([name, parsed]) => ({
    name,
    observer: readingObserver(parsed, names.context, { from, until }),
  }));
  return {
    observers: taken.map(({ observer }) => observer),
    result(): Faultless<ReadingResult> {
      const values: Record<string, ReadingResult['values'][string]> = {};
      const units: Record<string, Unit | null> = {};
      const reasons: Record<string, string> = {};
      for (const { name, observer } of taken) {
        const { value, unit, reason } = observer.result();
        values[name] = value;
        units[name] = unit;
        if (reason !== undefined) reasons[name] = reason;
      }
      return { kind: 'reading', ok: true, board: cell.board, from, until, values, reasons, units, asked: cell.take };
    },
  };
}
