import type { Circuit, Part } from '../circuit/description.ts';
import { formatQuantity, stepPreferred, type Series, type Unit } from '../quantity/index.ts';
import type { FaultKind, SymptomFault } from '../study/symptoms.ts';
import type { FaultChange, FaultStep } from './fault-change.ts';

/** What still leads past an open part or a pin that is not joined (Ω): the surface of a board; a judgement, no source. */
export const OPEN = 1e9;
/** A blob of solder (Ω); a judgement, no source. */
export const SHORT = 0.1;
/** A dry joint (Ω): such joints have anything from little to nearly open; a judgement, no source. */
const DRY = 1000;

/** One fault of one part of a board, and what it does to the board. */
export interface SingleFault extends SymptomFault {
  readonly change: FaultChange;
}

/** A part whose faults are listed: as it is run, the circuit it is part of, and what its board calls it. */
export interface FaultyPart {
  readonly part: Part;
  readonly circuit: Circuit;
  readonly name: string;
  /** Put before the names of the board's own parts in the circuit. */
  readonly prefix: string;
}

/** One fault of a part. @param title what is said behind the part's name. */
export function faultOf(
  { name }: FaultyPart,
  what: FaultKind,
  title: string,
  steps: readonly FaultStep[],
  never: string | null = null,
): SingleFault {
  return { part: name, what, title: title.replaceAll('@', name), never, change: { part: name, steps } };
}

/** Other values of a part's fields. */
export function set(values: Readonly<Record<string, unknown>>): readonly FaultStep[] {
  return [{ step: 'set', values }];
}

/** A resistance (Ω) between a terminal and what it was joined to. */
export function inSeries(terminal: string, resistance: number): readonly FaultStep[] {
  return [{ step: 'series', terminal, resistance }];
}

/** A dry joint at a terminal. @param where what the joint is called, the part's name if left out. */
export function dryJoint(of: FaultyPart, terminal: string, where = '@'): SingleFault {
  return faultOf(of, 'dry-joint', `${where} has a dry joint (${exact(DRY, 'Ω')} in series)`, inSeries(terminal, DRY));
}

/** A part with ten times its value, a tenth of it, and with the values beside it in a series. */
export function wrongValues(of: FaultyPart, field: string, unit: Unit, series: Series): SingleFault[] {
  const now = Number(of.part.values[field]);
  if (!(now > 0)) return [];
  const wrong = (what: FaultKind, value: number): SingleFault =>
    faultOf(of, what, `@ ${exact(value, unit)} instead of ${exact(now, unit)}`, set({ [field]: exact(value, unit) }));
  return [
    wrong('ten-times', 10 * now),
    wrong('a-tenth', now / 10),
    wrong('next-above', stepPreferred(now, series, 1)),
    wrong('next-below', stepPreferred(now, series, -1)),
  ];
}

/** A value as it is written and told, without the rounding of a multiplication. */
export function exact(value: number, unit: Unit): string {
  return formatQuantity(Number(value.toPrecision(12)), unit, { exact: true });
}
