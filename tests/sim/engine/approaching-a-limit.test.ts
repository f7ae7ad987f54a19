import { expect, test } from 'vitest';
import { CrossingFinder } from '#sim/engine/crossing.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply, timer } from '../../support/timer-circuits.ts';

test('CrossingFinder.first() finds no crossing of a limit that is only approached, whatever rounding the slow terms hold', () => {
  const slow = [1e-17, -1e-17, 3e-16];
  for (const rounding of slow) {
    for (const level of [0, 2e-16, -2e-16]) {
      const guards = {
        rates: Float64Array.of(1, 10, 300),
        idle: 0,
        constants: Float64Array.of(level),
        slopes: Float64Array.of(0),
        tolerances: Float64Array.of(1e-13),
        roots: Float64Array.of(0),
      };
      // A volt that dies out fast, beside what should be nothing at all.
      const coefficients = Float64Array.of(rounding, -1, rounding);
      expect(new CrossingFinder(3).first(guards, 0, coefficients, 1e9, false)).toBe(Number.POSITIVE_INFINITY);
    }
  }
});

test('a trigger that decays towards its reference and never reaches it never triggers, with other decays about', () => {
  for (const slow of [1e-6, 1e-5, 1e-3]) {
    // CONTROL is held at 0 V by a discharge switch, so the reference is 0 V as well; TRIGGER decays towards 0 V.
    const parts = [
      supply(9, { resistance: 1 }),
      timer('U1', { trigger: 'in', threshold: 'ground', output: 'out', control: 'held', discharge: 'held' }),
      resistor('R1', 'rail', 'held', 1e4),
      capacitor('C1', 'in', 'ground', 1e-9, { initial: 5 }),
      resistor('R2', 'in', 'x', 1e3),
      capacitor('C2', 'x', 'ground', 3e-9, { initial: 2 }),
      resistor('R3', 'x', 'ground', 1e3),
      // Elsewhere something much slower goes on, joined to the rest by the rail and the switch.
      capacitor('C3', 'y', 'rail', slow, { initial: 1 }),
      resistor('R4', 'y', 'held', 1e4),
    ];
    expect(eventsOf(storedRun(parts, 1e3), 'U1', 'triggerLow')).toEqual([]);
  }
});
