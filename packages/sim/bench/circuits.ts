import { checkCircuit } from '../src/circuit/check-circuit.ts';
import type { Circuit, PartData } from '../src/circuit/description.ts';
import { standardKinds } from '../src/device/standard-kinds.ts';

function checked(parts: readonly PartData[]): Circuit {
  const { circuit, issues } = checkCircuit({ parts }, standardKinds);
  if (!circuit) throw new Error(issues.map((issue) => issue.message).join('\n'));
  return circuit;
}

const supply = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 };

function timer(name: string, family: string, pins: Record<string, string>): PartData {
  return { name, kind: 'timer', family, pins: { supply: 'rail', ground: 'ground', ...pins } };
}

function resistor(name: string, a: string, b: string, resistance: number): PartData {
  return { name, kind: 'resistor', a, b, resistance };
}

function capacitor(name: string, a: string, b: string, capacitance: number): PartData {
  return { name, kind: 'capacitor', a, b, capacitance };
}

/** Resistances of the discharge switch and the output stage that keep every mode at its full number of states. */
const finite = { dischargeResistance: 10, outputHighResistance: 100, outputLowResistance: 20 };

/** A free-running timer: one state. */
export const oneState = checked([
  supply,
  resistor('R1', 'rail', 'sink', 10e3),
  resistor('R2', 'sink', 'timing', 47e3),
  capacitor('C1', 'timing', 'ground', 1e-7),
  timer('U1', 'ideal', { trigger: 'timing', threshold: 'timing', discharge: 'sink', output: 'out' }),
]);

/** The same with a capacitor on CONTROL and a resistor from the output to it: two states. */
export const twoStates = checked([
  supply,
  resistor('R1', 'rail', 'sink', 10e3),
  resistor('R2', 'sink', 'timing', 47e3),
  capacitor('C1', 'timing', 'ground', 1e-7),
  capacitor('C2', 'control', 'ground', 1e-8),
  resistor('R3', 'out', 'control', 100e3),
  {
    ...timer('U1', 'ideal', {
      trigger: 'timing',
      threshold: 'timing',
      discharge: 'sink',
      output: 'out',
      control: 'control',
    }),
    with: finite,
  },
]);

/** A free-running timer that feeds a divider, still without its timer, through a coupling capacitor. */
const oscillatorIntoDivider: readonly PartData[] = [
  { ...supply, resistance: 2 },
  resistor('R1', 'rail', 'sink', 10e3),
  resistor('R2', 'sink', 'timing', 47e3),
  capacitor('C1', 'timing', 'ground', 1e-7),
  {
    ...timer('U1', 'ideal', { trigger: 'timing', threshold: 'timing', discharge: 'sink', output: 'out' }),
    with: finite,
  },
  capacitor('C2', 'out', 'in', 1e-8),
  resistor('R3', 'rail', 'in', 22e3),
  resistor('R4', 'rail', 'hold', 220e3),
  capacitor('C3', 'hold', 'ground', 1e-7),
];

/** Pins of the divider's timer. */
const dividing = { trigger: 'in', threshold: 'hold', discharge: 'hold', output: 'divided' };

/** A free-running timer that feeds a divider through a coupling capacitor: three states. */
export const threeStates = checked([...oscillatorIntoDivider, { ...timer('U2', 'ideal', dividing), with: finite }]);

/** The same with a capacitor on the divider's CONTROL and a resistor to it from the free-running timer: four states. */
export const fourStates = checked([
  ...oscillatorIntoDivider,
  { ...timer('U2', 'ideal', { ...dividing, control: 'control' }), with: finite },
  capacitor('C4', 'control', 'ground', 1e-8),
  resistor('R5', 'out', 'control', 100e3),
]);

/** A frequency divider fed with one pulse per millisecond. */
export function divider(family: string): Circuit {
  return checked([
    supply,
    resistor('R1', 'rail', 'timing', 22e3),
    capacitor('C1', 'timing', 'ground', 1e-7),
    timer('U1', family, { trigger: 'in', threshold: 'timing', discharge: 'timing', output: 'out' }),
    {
      name: 'G1',
      kind: 'signal',
      plus: 'in',
      minus: 'ground',
      wave: { shape: 'pulses', period: 1e-3, width: 1e-4, rest: 9, pulse: 0 },
    },
  ]);
}
