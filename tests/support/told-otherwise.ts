import { readFileSync } from 'node:fs';
import type { RandomCircuit } from './random-circuit.ts';
import { resistor, supply, timer } from './timer-circuits.ts';

/**
 * A tie: U0 lets go its output one delay of its own after two of U1, U1 raises its output one of its own after U0's and
 * another of its own, which is the same to rounding.
 */
export const tie: RandomCircuit = {
  parts: [
    supply(5, { resistance: 0.1 }),
    ...['n1', 'n4'].map((net, k) => resistor(`R${k}`, net, 'rail', 1000)),
    ...(
      [
        ['U0', 6.295740895554414e-7, { discharge: 'n4', reset: 'rail' }],
        ['U1', 2.260618757338888e-7, { discharge: 'n1', reset: 'n4' }],
      ] as const
    ).flatMap(([name, delay, pins]) => [
      timer(
        name,
        { trigger: 'n1', threshold: 'n1', output: `out${name}`, ...pins },
        { start: 'set', with: { delay, dischargeResistance: 1 } },
      ),
      resistor(`RL${name}`, `out${name}`, 'ground', 300),
    ]),
  ],
  until: 3e-3,
};

/**
 * A supply that sags under its own timer: the output changes back and forth, each time within the time that a change draws
 * its charge in, so that the charges run into each other.
 */
export const sag: RandomCircuit = {
  parts: [
    {
      name: 'BT1',
      kind: 'supply',
      plus: 'rail',
      minus: 'ground',
      origin: 'isolated',
      voltage: 5,
      resistance: 0.6908632823523506,
      changes: [{ at: 0.0001, voltage: 1, over: 1e-5 }],
    },
    { name: 'R0', kind: 'resistor', a: 'n1', b: 'ground', resistance: 50446.726860582115 },
    { name: 'R1', kind: 'resistor', a: 'n2', b: 'rail', resistance: 118534.70963229582 },
    { name: 'R2', kind: 'resistor', a: 'n3', b: 'rail', resistance: 1000 },
    { name: 'R3', kind: 'resistor', a: 'n4', b: 'rail', resistance: 1000 },
    { name: 'R4', kind: 'resistor', a: 'n5', b: 'rail', resistance: 1350.7561491635076 },
    {
      name: 'C0',
      kind: 'capacitor',
      a: 'n1',
      b: 'n2',
      capacitance: 1.56280351175574e-7,
      leakage: 'none',
      series: 0,
      initial: 1,
    },
    {
      name: 'C1',
      kind: 'capacitor',
      a: 'n1',
      b: 'n5',
      capacitance: 1e-9,
      leakage: 'none',
      series: 11.62861714941775,
      initial: 3,
    },
    { name: 'RX0', kind: 'resistor', a: 'n4', b: 'n1', resistance: 20655.613248917463 },
    {
      name: 'U0',
      kind: 'timer',
      start: 'set',
      family: 'ideal',
      with: {
        delay: 5.543253376029092e-6,
        dischargeResistance: 1,
        transitionCharge: 7.721235796055276e-9,
        transitionTime: 1.2515360736486799e-8,
      },
      pins: { supply: 'rail', ground: 'ground', trigger: 'n1', threshold: 'n1', output: 'out0', reset: 'rail' },
    },
    { name: 'RL0', kind: 'resistor', a: 'out0', b: 'ground', resistance: 300 },
  ],
  until: 0.003,
};

/** Circuits that were once told otherwise, by one side or the other, without and with transistors that amplify. */
export const [toldOtherwise, amplifiersToldOtherwise] = ['told-twice', 'amplifiers-told-twice'].map(
  (name) =>
    JSON.parse(readFileSync(new URL(`../data/${name}.json`, import.meta.url), 'utf8')) as readonly RandomCircuit[],
) as [readonly RandomCircuit[], readonly RandomCircuit[]];
