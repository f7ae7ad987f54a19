import type { ReadyBoard } from './ready-board.ts';

/** ln 2 as data sheets print it. */
const PRINTED_LN_2 = 0.693;
const SOURCE = 'TI SLFS022I (Sept 2014), p. 11';

/** C1 charges through R1 and R2 to 2/3 of the supply and empties through R2 to 1/3, for ever; two lamps take turns. */
export const astable: ReadyBoard = {
  name: 'astable',
  purpose:
    'Switches its output on and off for ever; one lamp lights while the output is high, the other while it is low.',
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
          trigger: 'timing',
          output: 'out',
          reset: 'rail',
          control: 'control',
          threshold: 'timing',
          discharge: 'middle',
        },
      },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'middle', resistance: '10 kΩ' },
      { name: 'R2', kind: 'resistor', a: 'middle', b: 'timing', resistance: '68 kΩ' },
      {
        name: 'C1',
        kind: 'capacitor',
        a: 'timing',
        b: 'ground',
        capacitance: '10 µF',
        polarised: true,
        rating: '25 V',
      },
      { name: 'R3', kind: 'resistor', a: 'out', b: 'left', resistance: '680 Ω' },
      { name: 'D1', kind: 'led', a: 'left', b: 'ground', colour: 'red' },
      { name: 'R4', kind: 'resistor', a: 'rail', b: 'right', resistance: '680 Ω' },
      { name: 'D2', kind: 'led', a: 'right', b: 'out', colour: 'red' },
    ],
  },
  layout: {
    rail: 3,
    ground: 33,
    timer: {
      x: 19,
      y: 7,
      width: 10,
      height: 23,
      name: 26,
      pins: {
        supply: { side: 'up', at: 22 },
        reset: { side: 'up', at: 27 },
        discharge: { side: 'left', at: 10 },
        threshold: { side: 'left', at: 18 },
        trigger: { side: 'left', at: 20 },
        control: { side: 'left', at: 23 },
        output: { side: 'right', at: 14 },
        ground: { side: 'down', at: 24 },
      },
    },
    parts: {
      BT1: { x: 2, y: 17 },
      R1: { x: 10, y: 6 },
      R2: { x: 10, y: 14 },
      C1: { x: 10, y: 27 },
      R4: { x: 33, y: 6 },
      D2: { x: 33, y: 11 },
      R3: { x: 33, y: 19 },
      D1: { x: 33, y: 26 },
    },
  },
  values: [
    { name: 'R1', title: 'resistor that only charges' },
    { name: 'R2', title: 'resistor that charges and discharges' },
    { name: 'C1', title: 'timing capacitor' },
    { name: 'BT1', title: 'supply voltage' },
    { name: 'U1.family', title: 'timer family' },
    { name: 'R3', title: 'series resistor of the lamp D1' },
    { name: 'R4', title: 'series resistor of the lamp D2' },
  ],
  textbook: [
    {
      name: 'high',
      formula: 'tH = 0.693 · (R1 + R2) · C1',
      unit: 's',
      source: SOURCE,
      reading: 'width(out)',
      uses: ['R1.resistance', 'R2.resistance', 'C1.capacitance'],
      rule: (first, second, capacitance) => PRINTED_LN_2 * (first + second) * capacitance,
    },
    {
      name: 'low',
      formula: 'tL = 0.693 · R2 · C1',
      unit: 's',
      source: SOURCE,
      reading: 'low(out)',
      uses: ['R2.resistance', 'C1.capacitance'],
      rule: (second, capacitance) => PRINTED_LN_2 * second * capacitance,
    },
    {
      name: 'frequency',
      formula: 'f = 1.44 / ((R1 + 2 · R2) · C1)',
      unit: 'Hz',
      source: SOURCE,
      reading: 'frequency(out)',
      uses: ['R1.resistance', 'R2.resistance', 'C1.capacitance'],
      rule: (first, second, capacitance) => 1.44 / ((first + 2 * second) * capacitance),
    },
    {
      name: 'duty',
      formula: 'D = (R1 + R2) / (R1 + 2 · R2), the share of a period for which the output is high',
      unit: 'share',
      source: SOURCE,
      reading: 'duty(out)',
      uses: ['R1.resistance', 'R2.resistance'],
      rule: (first, second) => (first + second) / (first + 2 * second),
    },
  ],
};
