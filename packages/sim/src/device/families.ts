import { familyTable } from './family-table.ts';
import type { TimerFamily, TimerParameters } from './timer-parameters.ts';

export type { TimerFamily, TimerParameters };

/** All families, in the order they are offered. */
export const timerFamilies = Object.keys(familyTable) as readonly TimerFamily[];

/** The nominal parameters of a family, with `changes` in place of what they name. */
export function timerParameters(family: TimerFamily, changes: Partial<TimerParameters> = {}): TimerParameters {
  const nominal = Object.entries(familyTable[family]).map(([name, value]) => [name, value.nominal]);
  return { ...(Object.fromEntries(nominal) as TimerParameters), ...changes };
}
