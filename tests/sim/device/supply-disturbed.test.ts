import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import { boardOf, fatesOf, type FilePart } from '../../support/run-board.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply, timer } from '../../support/timer-circuits.ts';

/** Level at which RESET acts (V), of the ideal and the bipolar family (TI-A p. 4). */
const resetLevel = 0.7;

/** A platform lamp whose TRIGGER and RESET each hang on a resistor to the rail and a capacitor to ground. */
function lamp(times: { trigger: number; reset?: number; interval: number }, battery: FilePart): FilePart[] {
  const rc = (net: string, name: string, tau: number): FilePart[] => [
    resistor(`R${name}`, 'rail', net, 100e3),
    capacitor(`C${name}`, net, 'ground', tau / 100e3),
  ];
  const reset = times.reset === undefined ? 'rail' : 'hold';
  return [
    battery,
    timer('U1', { trigger: 'in', threshold: 'timing', discharge: 'timing', output: 'out', reset }),
    ...rc('in', '2', times.trigger),
    ...(times.reset === undefined ? [] : rc('hold', '4', times.reset)),
    ...rc('timing', '1', times.interval),
  ];
}

describe('power-up by a step', () => {
  // RESET lets go after RC ln(V / (V - 0.7)), TRIGGER after RC ln(3/2): derived from the RC curve. RESET must last longer.
  test.each([
    [5, 2.69],
    [9, 5.01],
  ])('at %d V the RESET capacitor must be %d times as slow as TRIGGER to keep the lamp dark', (voltage, times) => {
    const ratio = Math.log(1.5) / Math.log(voltage / (voltage - resetLevel));
    expect(ratio).toBeCloseTo(times, 2);
    const run = (more: number) =>
      fatesOf(boardOf(lamp({ trigger: 1e-3, reset: ratio * more * 1e-3, interval: 0.1 }, supply(voltage))), 1);
    const dark = run(1.01);
    expect(dark.counts).toMatchObject({ started: 0, barred: 1 });
    expect(dark.pulses[0]!.reason).toBe('Barred: RESET was low, so the pulse could not act.');
    const lit = run(0.99);
    expect(lit.counts).toMatchObject({ started: 1, barred: 0 });
    expect(lit.pulses[0]!.reason).toMatch(/^Started when RESET let go/);
  });

  test('without anything at RESET the lamp lights at every power-up', () => {
    const { counts } = fatesOf(boardOf(lamp({ trigger: 1e-3, interval: 0.1 }, supply(9))), 1);
    expect(counts).toMatchObject({ started: 1 });
  });
});

describe('a slow power-up', () => {
  const rising = supply(0, { changes: [{ at: 0, voltage: 9, over: 1 }] });
  /** RESET, tied to the rail, lets go when the ramp of 9 V/s passes its level. */
  const released = resetLevel / 9;

  test('RESET lets go when the ramp passes 0.7 V, to the last digits', () => {
    const trace = storedRun(lamp({ trigger: 20e-3, interval: 0.1 }, rising), 1);
    const [high] = eventsOf(trace, 'U1', 'resetHigh');
    expect(errorOf(high!.time + high!.timeLow, released)).toBeLessThanOrEqual(1e-12);
  });

  test('TRIGGER lags behind the ramp by its time constant and passes a third of it where the closed form says', () => {
    // Ramp s t: s (t - T (1 - e^(-t/T))) = s t / 3, solved by Newton here.
    const tau = 150e-3;
    let time = tau;
    for (let k = 0; k < 50; k++) {
      const f = (2 / 3) * time - tau * (1 - Math.exp(-time / tau));
      time -= f / (2 / 3 - Math.exp(-time / tau));
    }
    const trace = storedRun(lamp({ trigger: tau, interval: 0.1 }, rising), 1);
    const [high] = eventsOf(trace, 'U1', 'triggerHigh');
    expect(errorOf(high!.time + high!.timeLow, time)).toBeLessThanOrEqual(1e-10);
  });

  test('a TRIGGER that is up before RESET lets go is barred, a slower one starts an interval', () => {
    const fates = (trigger: number) => fatesOf(boardOf(lamp({ trigger, interval: 0.1 }, rising)), 1);
    // It is up after 0.874 time constants; RESET lets go after 78 ms.
    expect(fates(80e-3).counts).toMatchObject({ started: 0, barred: 1 });
    expect(fates(100e-3).counts).toMatchObject({ started: 1, barred: 0 });
    expect(plain(fates(100e-3).pulses[0]!.reason)).toMatch(/^Started when RESET let go, 77\.8 ms after the pulse came/);
  });
});

describe('a dip of the supply', () => {
  /** The lamp lit from power-up, the supply down to `to` volts from `at` on for 1 ms. */
  function dipped(at: number, to: number): FilePart[] {
    const changes = [
      { at, voltage: to },
      { at: at + 1e-3, voltage: 9 },
    ];
    return [
      supply(9, { changes }),
      timer('U1', { trigger: 'in', threshold: 'timing', discharge: 'timing', output: 'out' }),
      // Up within microseconds, so it is TRIGGER no more when the supply dips.
      resistor('R2', 'rail', 'in', 1e3),
      capacitor('C2', 'in', 'ground', 1e-9),
      resistor('R1', 'rail', 'timing', 100e3),
      capacitor('C1', 'timing', 'ground', 1e-6),
    ];
  }

  function causes(parts: readonly FilePart[]): string[] {
    return eventsOf(storedRun(parts, 0.3), 'U1', 'cleared', 'set').map(
      (event) => `${event.kind} by ${event.cause ?? '?'}`,
    );
  }

  test('below the level of RESET it ends the interval, however empty the capacitor', () => {
    const parts = dipped(2e-3, 0.6);
    expect(causes(parts)[1]).toBe('cleared by resetLow');
    expect(plain(fatesOf(boardOf(parts), 0.3).pulses[0]!.reason)).toContain('RESET');
  });

  test('a little above that level it does not reset, and an early interval goes on', () => {
    // 2 ms of 100 ms from 0 V: 0.18 V, below 2/3 of 1 V.
    const parts = dipped(2e-3, 1);
    const [started, ended] = eventsOf(storedRun(parts, 0.3), 'U1', 'set', 'cleared');
    expect(ended!.cause).toBe('thresholdOver');
    expect(ended!.time - started!.time).toBeGreaterThan(0.1);
    expect(fatesOf(boardOf(parts), 0.3).counts).toMatchObject({ started: 1 });
  });

  test('the same dip later ends the interval through THRESHOLD: its limit has come down to the capacitor', () => {
    // 60 ms of 100 ms: 4.06 V, above 2/3 of 1 V and of 6 V, below 2/3 of 6.2 V.
    const at = 60e-3;
    const before = 9 * (1 - Math.exp(-at / 0.1));
    expect([before > 4, before < (2 / 3) * 6.2]).toEqual([true, true]);
    for (const to of [1, 6]) {
      const [, ended] = eventsOf(storedRun(dipped(at, to), 0.3), 'U1', 'set', 'cleared');
      expect([ended!.cause, ended!.time]).toEqual(['thresholdOver', at]);
    }
    // The limit is two thirds of the supply: 6 V before, 667 mV at 1 V. TRIGGER is up after 0.4 µs.
    expect(plain(fatesOf(boardOf(dipped(at, 1)), 0.3).pulses[0]!.reason)).toBe(
      'Started: an interval of 60.0 ms, ended by a limit that had gone from 6.00 V to 667 mV.',
    );
    const [, ended] = eventsOf(storedRun(dipped(at, 6.2), 0.3), 'U1', 'set', 'cleared');
    expect(ended!.time).toBeGreaterThan(0.1);
  });
});
