import { monostablePins } from './board-layout.ts';
import { intervalRule } from './monostable.ts';
import type { ReadyBoard } from './ready-board.ts';

/**
 * A monostable whose TRIGGER hangs on a pull-up so weak that a finger overrules it. Battery only; 1 MΩ stands between
 * the plate and everything else. The timer is of the CMOS family: the trigger current of a bipolar one would have to go
 * through the finger as well.
 */
export const touchSwitch: ReadyBoard = {
  name: 'touch switch',
  purpose:
    'A touch of the plate switches the output on for a fixed time. The plate pulls TRIGGER down against a very weak pull-up. On a battery only.',
  circuit: {
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' },
      {
        name: 'U1',
        kind: 'timer',
        family: 'cmos',
        pins: {
          supply: 'rail',
          ground: 'ground',
          trigger: 'touched',
          output: 'out',
          reset: 'rail',
          control: 'control',
          threshold: 'timing',
          discharge: 'timing',
        },
      },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '220 kΩ' },
      {
        name: 'C1',
        kind: 'capacitor',
        a: 'timing',
        b: 'ground',
        capacitance: '4.7 µF',
        polarised: true,
        rating: '16 V',
      },
      { name: 'R2', kind: 'resistor', a: 'rail', b: 'touched', resistance: '10 MΩ' },
      { name: 'R3', kind: 'resistor', a: 'touched', b: 'plate', resistance: '1 MΩ' },
      { name: 'F1', kind: 'finger', a: 'plate', touches: [{ at: '500 ms', for: '300 ms' }] },
      { name: 'R4', kind: 'resistor', a: 'out', b: 'bell', resistance: '680 Ω' },
      { name: 'D1', kind: 'led', a: 'bell', b: 'ground', colour: 'green' },
    ],
  },
  layout: {
    rail: 3,
    ground: 30,
    timer: { x: 23, y: 7, width: 10, height: 20, name: 23, pins: monostablePins(23) },
    parts: {
      BT1: { x: 2, y: 15 },
      F1: { x: 7, y: 22 },
      R3: { x: 10, y: 17, first: 'right' },
      R2: { x: 13, y: 7, text: 'left' },
      R1: { x: 16, y: 7 },
      C1: { x: 16, y: 25 },
      R4: { x: 36, y: 19 },
      D1: { x: 36, y: 25 },
    },
  },
  values: [
    { name: 'R1', title: 'timing resistor' },
    { name: 'C1', title: 'timing capacitor' },
    { name: 'R2', title: 'pull-up that holds TRIGGER high' },
    { name: 'R3', title: 'resistor between plate and circuit, 1 MΩ or more' },
    { name: 'BT1', title: 'battery voltage' },
    { name: 'F1.touches', title: 'when the plate is touched, and for how long' },
    { name: 'F1.resistance', title: 'resistance of the skin' },
    { name: 'F1.capacitance', title: 'capacitance of the body' },
    { name: 'F1.earth', title: 'leakage of the body to 0 V' },
    { name: 'F1.hum', title: 'mains voltage around the body, none out of doors' },
    { name: 'R4', title: 'series resistor of the lamp' },
  ],
  textbook: [
    intervalRule,
    {
      name: 'pull',
      formula: 'Vtrigger = V · (R3 + Rskin) / (R2 + R3 + Rskin), at the instant of the touch; below V / 3 it triggers',
      unit: 'V',
      source: 'voltage divider against a body still at 0 V, derived',
      reading: 'trough(touched)',
      uses: ['BT1.voltage', 'R2.resistance', 'R3.resistance', 'F1.resistance'],
      rule: (voltage, pullUp, series, skin) => (voltage * (series + skin)) / (pullUp + series + skin),
    },
  ],
};
