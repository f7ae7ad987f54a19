import { formatQuantity, type Unit } from '../quantity/index.ts';
import { timerFamilies } from './families.ts';
import { familyTable } from './family-table.ts';
import { parameterUnits } from './read-parameters.ts';
import type { TimerFamily, TimerParameters } from './timer-parameters.ts';

/** One parameter that differs between two families of timers. */
export interface FamilyChange {
  readonly parameter: keyof TimerParameters;
  /** What the parameter is, in a few words. */
  readonly title: string;
  /** Unit of both values; absent where they are true or false. */
  readonly unit?: Unit;
  /** Nominal values in SI units, `Infinity` for no limit. */
  readonly from: number | boolean;
  readonly to: number | boolean;
  /** Where each value comes from. */
  readonly fromSource: string;
  readonly toSource: string;
  /** The change in words: `from a comparator to the output: 300 ns, was none`. */
  readonly sentence: string;
}

const titles: Readonly<Record<keyof TimerParameters, string>> = {
  dividerResistance: 'each of the three resistors of the divider',
  thresholdCurrent: 'current into THRESHOLD',
  triggerCurrent: 'current out of TRIGGER',
  resetCurrent: 'current out of RESET while it is low',
  resetLevel: 'voltage below which RESET acts',
  outputHighDrop: 'high output below the supply, without load',
  outputHighResistance: 'resistance behind the high output',
  outputLowSaturation: 'low output above ground, without load',
  outputLowResistance: 'resistance behind the low output',
  outputOneWay: 'high output only gives current, low output only takes it',
  dischargeSaturation: 'voltage left across the discharge switch, without current',
  dischargeResistance: 'resistance of the discharge switch',
  dischargeCurrent: 'largest current of the discharge switch',
  dischargeLeakage: 'current into the open discharge switch',
  clampDrop: 'how far past a rail the junctions of the inputs conduct',
  triggerClampDrop: 'how far above the supply the junction of TRIGGER conducts',
  clampResistance: 'resistance behind the junctions of the inputs',
  delay: 'from a comparator to the output',
  minimumTrigger: 'shortest pulse at TRIGGER that acts',
  supplyCurrentHigh: 'supply current while the output is high',
  supplyCurrentLow: 'supply current while the output is low',
  transitionCharge: 'charge from supply to ground at every change of the output',
  transitionTime: 'how long that charge takes',
  supplyMinimum: 'least supply voltage',
  supplyMaximum: 'greatest supply voltage',
  outputMaximum: 'largest current the high output gives',
  outputSinkMaximum: 'largest current the low output takes',
};

/** Parameters for which infinity says that nothing of the kind is there, not that there is no limit. */
const absent: readonly string[] = ['clampDrop', 'triggerClampDrop'];

/**
 * What changes when a timer of one family takes the place of one of another: every parameter whose nominal value differs,
 * in the order of the table, with units and sources; none for a family and itself.
 *
 * @throws RangeError for a family that does not exist.
 */
export function familyChanges(from: TimerFamily, to: TimerFamily): FamilyChange[] {
  const [before, after] = [tableOf(from), tableOf(to)];
  const names = Object.keys(after) as (keyof TimerParameters)[];
  return names.flatMap((parameter) => {
    const [was, is] = [before[parameter], after[parameter]];
    if (was.nominal === is.nominal) return [];
    const title = titles[parameter];
    return [
      {
        parameter,
        title,
        ...(parameter === 'outputOneWay' ? {} : { unit: parameterUnits[parameter] }),
        from: was.nominal,
        to: is.nominal,
        fromSource: was.source,
        toSource: is.source,
        sentence: `${title}: ${valueText(parameter, is.nominal)}, was ${valueText(parameter, was.nominal)}`,
      },
    ];
  });
}

/** One parameter of a family of timers, with what people need to know to state another value. */
export interface FamilyParameter {
  readonly name: keyof TimerParameters;
  /** What it is, in a few words. */
  readonly title: string;
  /** Unit of the value; absent where it is true or false. */
  readonly unit?: Unit;
  /** Nominal value in SI units, `Infinity` for no limit. */
  readonly value: number | boolean;
  readonly source: string;
}

/**
 * All parameters of a family, in the order of its table.
 *
 * @throws RangeError for a family that does not exist.
 */
export function familyParameters(family: TimerFamily): FamilyParameter[] {
  const table = tableOf(family);
  return (Object.keys(table) as (keyof TimerParameters)[]).map((name) => ({
    name,
    title: titles[name],
    ...(name === 'outputOneWay' ? {} : { unit: parameterUnits[name] }),
    value: table[name].nominal,
    source: table[name].source,
  }));
}

function tableOf(family: TimerFamily) {
  if (Object.hasOwn(familyTable, family)) return familyTable[family];
  throw new RangeError(`family-changes: family must be one of ${timerFamilies.join(', ')}; got ${String(family)}.`);
}

function valueText(parameter: keyof TimerParameters, value: number | boolean): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (value === Number.POSITIVE_INFINITY) return absent.includes(parameter) ? 'no junction' : 'no limit';
  if (value === 0) return 'none';
  return parameter === 'outputOneWay' ? '' : formatQuantity(value, parameterUnits[parameter], { exact: true });
}
