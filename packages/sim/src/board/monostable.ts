import { monostablePins } from './board-layout.ts';
import type { Prediction, ReadyBoard } from './ready-board.ts';

/** `T = 1.1 R C`: how long one interval of a monostable lasts; shared by every board that has one. */
export const intervalRule: Prediction = {
  name: 'interval',
  formula: 'T = 1.1 · R1 · C1',
  unit: 's',
  source: 'TI SLFS022I (Sept 2014), p. 10',
  reading: 'width(out)',
  uses: ['R1.resistance', 'C1.capacitance'],
  rule: (resistance, capacitance) => 1.1 * resistance * capacitance,
};

/** One press, one interval: a button pulls TRIGGER low, and the output stays high while C1 charges to 2/3 of the supply. */
export const monostable: ReadyBoard = {
  name: 'monostable',
  purpose: 'One press of the button switches the output on for a fixed time, however short the press.',
  circuit: {
    parts: [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', origin: 'isolated' },
      {
        name: 'U1',
        kind: 'timer',
        family: 'bipolar',
        pins: {
          supply: 'rail',
          ground: 'ground',
          trigger: 'button',
          output: 'out',
          reset: 'rail',
          control: 'control',
          threshold: 'timing',
          discharge: 'timing',
        },
      },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '390 kΩ' },
      {
        name: 'C1',
        kind: 'capacitor',
        a: 'timing',
        b: 'ground',
        capacitance: '10 µF',
        polarised: true,
        rating: '25 V',
      },
      { name: 'R2', kind: 'resistor', a: 'rail', b: 'button', resistance: '10 kΩ' },
      { name: 'S1', kind: 'button', a: 'button', b: 'ground', presses: [{ at: '1 s', for: '200 ms' }] },
      { name: 'R3', kind: 'resistor', a: 'out', b: 'lamp', resistance: '680 Ω' },
      { name: 'D1', kind: 'led', a: 'lamp', b: 'ground', colour: 'yellow' },
    ],
  },
  layout: {
    rail: 3,
    ground: 30,
    timer: { x: 23, y: 7, width: 10, height: 20, name: 23, pins: monostablePins(23) },
    parts: {
      BT1: { x: 2, y: 15 },
      R2: { x: 8, y: 7 },
      S1: { x: 8, y: 25 },
      R1: { x: 16, y: 7 },
      C1: { x: 16, y: 25 },
      R3: { x: 35, y: 19 },
      D1: { x: 35, y: 25 },
    },
  },
  values: [
    { name: 'R1', title: 'timing resistor' },
    { name: 'C1', title: 'timing capacitor' },
    { name: 'BT1', title: 'supply voltage' },
    { name: 'U1.family', title: 'timer family' },
    { name: 'S1.presses', title: 'when the button is pressed, and for how long' },
    { name: 'R3', title: 'series resistor of the lamp' },
  ],
  textbook: [intervalRule],
};
