import type { HandMode } from './ode-package.ts';

/** `oneState` of circuits.ts by hand: charging over 57 kohm towards 9 V, emptying over 47 kohm into an ideal switch. */
export const oneStateModes: readonly HandMode[] = [
  { derivative: ([v]) => [(9 - v!) / (57e3 * 1e-7)], guards: [{ value: ([v]) => v! - 6, to: 1 }] },
  { derivative: ([v]) => [-v! / (47e3 * 1e-7)], guards: [{ value: ([v]) => 3 - v!, to: 0 }] },
];

/**
 * `twoStates` of circuits.ts by hand, with v on the timing capacitor and c on CONTROL: the output (100 ohm to the supply
 * or 20 ohm to ground) pulls CONTROL through 100 kohm, the divider is 5 kohm above and 10 kohm below, the switch has
 * 10 ohm.
 */
export const twoStatesModes: readonly HandMode[] = [
  {
    derivative: ([v, c]) => [(9 - v!) / (57e3 * 1e-7), ((9 - c!) / 5e3 - c! / 10e3 + (9 - c!) / (100e3 + 100)) / 1e-8],
    guards: [{ value: ([v, c]) => v! - c!, to: 1 }],
  },
  {
    derivative: ([v, c]) => {
      const sink = (9 / 10e3 + v! / 47e3) / (1 / 10e3 + 1 / 47e3 + 1 / 10);
      return [(sink - v!) / (47e3 * 1e-7), ((9 - c!) / 5e3 - c! / 10e3 - c! / (100e3 + 20)) / 1e-8];
    },
    guards: [{ value: ([v, c]) => c! / 2 - v!, to: 0 }],
  },
];
