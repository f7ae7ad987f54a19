import type { Unit } from '../quantity/index.ts';
import type { BoardValue } from './board-subject.ts';

/** Units of the parameters of timers for which ranges are published. */
export const parameterUnits: Readonly<Record<string, Unit>> = {
  dividerResistance: 'Ω',
  thresholdCurrent: 'A',
  triggerCurrent: 'A',
  resetCurrent: 'A',
  resetLevel: 'V',
  outputHighDrop: 'V',
  dischargeResistance: 'Ω',
  dischargeLeakage: 'A',
  supplyCurrentHigh: 'A',
  supplyCurrentLow: 'A',
  transitionCharge: 'C',
  transitionTime: 's',
};

/** Whether a value is a leakage, given as a resistance: its range is that of the current, and may reach none at all. */
export function isLeakage({ steps }: BoardValue): boolean {
  return steps.length === 1 && steps[0] === 'leakage';
}
