import { expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';

/**
 * Found among random circuits: where an ideal discharge switch comes to rest with its pin at 0 V and nothing flowing, the
 * rounding of voltage and current took it open and closed again without end.
 */
const coupled = [
  {
    name: 'BT1',
    kind: 'supply',
    plus: 'rail',
    minus: 'ground',
    voltage: 9,
    origin: 'isolated',
    resistance: 0,
    changes: [],
  },
  { name: 'R0', kind: 'resistor', a: 'n1', b: 'rail', resistance: 11167.881820902518 },
  { name: 'R1', kind: 'resistor', a: 'n2', b: 'n1', resistance: 7697.869146010627 },
  { name: 'R2', kind: 'resistor', a: 'n3', b: 'n2', resistance: 2720310.4558886476 },
  { name: 'R3', kind: 'resistor', a: 'n4', b: 'n3', resistance: 85258.64557689705 },
  { name: 'R4', kind: 'resistor', a: 'n5', b: 'ground', resistance: 2023601.4374445935 },
  {
    name: 'C0',
    kind: 'capacitor',
    a: 'n4',
    b: 'n5',
    capacitance: 1.7837655674569005e-9,
    leakage: 'none',
    series: 8.295720572334924,
    initial: 1,
  },
  {
    name: 'C1',
    kind: 'capacitor',
    a: 'n1',
    b: 'n3',
    capacitance: 2.1541336811758812e-9,
    leakage: 'none',
    series: 6.252962093487279,
    initial: 0,
  },
  {
    name: 'U0',
    kind: 'timer',
    start: 'cleared',
    family: 'ideal',
    with: { delay: 0.00003968865871226758 },
    pins: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'n5',
      threshold: 'n4',
      output: 'out0',
      reset: 'n5',
      discharge: 'n1',
      control: 'n3',
    },
  },
  { name: 'RL0', kind: 'resistor', a: 'out0', b: 'n3', resistance: 261097.62093588748 },
  {
    name: 'G0',
    kind: 'signal',
    minus: 'ground',
    plus: 'n3',
    wave: {
      shape: 'pulses',
      period: 0.0004789970138555958,
      width: 0.00005883549768775803,
      rest: 7.3,
      pulse: 0,
      delay: 0.002053721175761482,
    },
    resistance: 2016.2328424771492,
  },
  {
    name: 'S0',
    kind: 'button',
    a: 'n3',
    b: 'rail',
    closed: false,
    resistance: 0,
    presses: [
      { at: 0.00004817495127208116, for: 0.009672149430505627 },
      { at: 0.009816726094852273, for: 0.0006782462679491423 },
    ],
  },
];

const held = [
  {
    name: 'BT1',
    kind: 'supply',
    plus: 'rail',
    minus: 'ground',
    voltage: 9,
    origin: 'isolated',
    resistance: 13.007535307659166,
    changes: [],
  },
  { name: 'R0', kind: 'resistor', a: 'n1', b: 'rail', resistance: 37359.999195475735 },
  { name: 'R1', kind: 'resistor', a: 'n2', b: 'n1', resistance: 4791.045906819294 },
  { name: 'R2', kind: 'resistor', a: 'n3', b: 'ground', resistance: 4087.8086023057126 },
  { name: 'R3', kind: 'resistor', a: 'n4', b: 'ground', resistance: 13124.593642444195 },
  { name: 'R4', kind: 'resistor', a: 'n5', b: 'n4', resistance: 806799.9633617498 },
  {
    name: 'C0',
    kind: 'capacitor',
    a: 'n1',
    b: 'n2',
    capacitance: 2.281117589377402e-7,
    leakage: 'none',
    series: 0,
    initial: 4,
  },
  {
    name: 'C1',
    kind: 'capacitor',
    a: 'n1',
    b: 'n5',
    capacitance: 9.003744377140718e-8,
    leakage: 'none',
    series: 4.47307134086453,
    initial: 7,
  },
  {
    name: 'C2',
    kind: 'capacitor',
    a: 'n5',
    b: 'ground',
    capacitance: 6.090624834958471e-9,
    leakage: 'none',
    series: 0,
    initial: 0,
  },
  { name: 'RX0', kind: 'resistor', a: 'n3', b: 'rail', resistance: 835386.3101209963 },
  { name: 'D0', kind: 'led', a: 'n3', b: 'ground', slope: 1.335717697543785 },
  {
    name: 'U0',
    kind: 'timer',
    start: 'cleared',
    family: 'ideal',
    with: {
      delay: 5.582096523243704e-7,
      outputHighResistance: 1.0084567797593071,
      outputLowResistance: 46.74450777921719,
    },
    pins: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'n2',
      threshold: 'n5',
      output: 'out0',
      reset: 'n5',
      discharge: 'n5',
      control: 'n2',
    },
  },
  { name: 'RL0', kind: 'resistor', a: 'out0', b: 'ground', resistance: 491.2003901213423 },
  {
    name: 'S0',
    kind: 'switch',
    a: 'n4',
    b: 'n2',
    closed: true,
    resistance: 4171.60024800588,
    presses: [{ at: 0.003919469856220293, for: 0.00007459778396855051 }],
  },
];

test('an ideal discharge switch that stands at the corner of its curve goes on, whatever rounding says', () => {
  for (const parts of [coupled, held]) {
    // The scale of the divider matters as well: at 5 kohm the rounding is another one, and so it is at 16.5 kohm.
    for (const dividerResistance of [5e3, 16.5e3]) {
      const turned = parts.map((part) =>
        part.kind === 'timer' ? { ...part, with: { ...part.with, dividerResistance } } : part,
      );
      const { code } = runCircuit(circuitOf(turned), { until: 0.03, observers: [], maxEvents: 10_000 });
      expect(code).toBe('reached');
    }
  }
});
