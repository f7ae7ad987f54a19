import type { FieldReader } from '../field/field-reader.ts';
import { type Member, readRecord } from '../field/record.ts';
import { flag, quantity } from '../field/value-readers.ts';
import type { Unit } from '../quantity/index.ts';
import type { TimerParameters } from './timer-parameters.ts';

/** Unit of every parameter that is a quantity, for lists and messages. */
export const parameterUnits: { readonly [Name in Exclude<keyof TimerParameters, 'outputOneWay'>]: Unit } = {
  dividerResistance: 'Ω',
  thresholdCurrent: 'A',
  triggerCurrent: 'A',
  resetCurrent: 'A',
  resetLevel: 'V',
  outputHighDrop: 'V',
  outputHighResistance: 'Ω',
  outputLowSaturation: 'V',
  outputLowResistance: 'Ω',
  dischargeSaturation: 'V',
  dischargeResistance: 'Ω',
  dischargeCurrent: 'A',
  dischargeLeakage: 'A',
  clampDrop: 'V',
  triggerClampDrop: 'V',
  clampResistance: 'Ω',
  delay: 's',
  minimumTrigger: 's',
  supplyCurrentHigh: 'A',
  supplyCurrentLow: 'A',
  transitionCharge: 'C',
  transitionTime: 's',
  supplyMinimum: 'V',
  supplyMaximum: 'V',
  outputMaximum: 'A',
  outputSinkMaximum: 'A',
};

const aboveZero: readonly string[] = ['dividerResistance', 'resetLevel', 'clampResistance', 'transitionTime'];
const unlimitable: readonly string[] = [
  'dischargeCurrent',
  'clampDrop',
  'triggerClampDrop',
  'supplyMaximum',
  'outputMaximum',
  'outputSinkMaximum',
];

const members: readonly Member[] = [
  ...Object.entries(parameterUnits).map(([name, unit]): Member => {
    if (unlimitable.includes(name))
      return { name, optional: true, read: quantity(unit, { above: 0, word: 'unlimited' }) };
    return { name, optional: true, read: quantity(unit, aboveZero.includes(name) ? { above: 0 } : { atLeast: 0 }) };
  }),
  { name: 'outputOneWay', optional: true, read: flag() },
];

/** Reads the parameters in which one timer differs from its family, by name, each in its unit. */
export const readParameterChanges: FieldReader = (input) => readRecord(input, members, '{ "delay": "200 ns" }');
