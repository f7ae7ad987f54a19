import { monostablePins } from './board-layout.ts';
import { intervalRule } from './monostable.ts';
import type { ReadyBoard } from './ready-board.ts';

/**
 * A monostable fed with a train of pulses: those that come while the interval runs are ignored, so only every n-th one
 * starts an interval.
 */
export const frequencyDivider: ReadyBoard = {
  name: 'frequency divider',
  purpose:
    'Gives one output pulse for every few input pulses: whatever comes while the interval runs is ignored, and the first pulse after it starts the next interval.',
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
          trigger: 'in',
          output: 'out',
          reset: 'rail',
          control: 'control',
          threshold: 'timing',
          discharge: 'timing',
        },
      },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '68 kΩ' },
      {
        name: 'C1',
        kind: 'capacitor',
        a: 'timing',
        b: 'ground',
        capacitance: '4.7 µF',
        polarised: true,
        rating: '25 V',
      },
      {
        name: 'G1',
        kind: 'signal',
        plus: 'in',
        minus: 'ground',
        wave: { shape: 'pulses', period: '150 ms', width: '8 ms', rest: '12 V', pulse: '0 V', delay: '100 ms' },
      },
    ],
  },
  layout: {
    rail: 3,
    ground: 30,
    timer: { x: 22, y: 7, width: 10, height: 20, name: 23, pins: monostablePins(22) },
    parts: {
      BT1: { x: 2, y: 15 },
      G1: { x: 8, y: 25 },
      R1: { x: 14, y: 7 },
      C1: { x: 14, y: 25 },
    },
  },
  values: [
    { name: 'R1', title: 'timing resistor' },
    { name: 'C1', title: 'timing capacitor' },
    { name: 'BT1', title: 'supply voltage' },
    { name: 'U1.family', title: 'timer family' },
    { name: 'G1.wave', title: 'the input pulses' },
    { name: 'G1.wave.period', title: 'time from one input pulse to the next' },
    { name: 'G1.wave.width', title: 'how long an input pulse stays low' },
  ],
  textbook: [
    intervalRule,
    {
      name: 'ratio',
      formula: 'n = floor(T / Tin) + 1, with T = 1.1 · R1 · C1 and Tin the input period',
      unit: null,
      source:
        'pulses during the interval are ignored: TI SLFS022A (Sept 2000), p. 12; (n - 1) Tin < T < n Tin follows from it',
      reading: 'ratio(out, in)',
      uses: ['R1.resistance', 'C1.capacitance', 'G1.wave.period'],
      rule: (resistance, capacitance, period) => Math.floor((1.1 * resistance * capacitance) / period) + 1,
    },
  ],
};
