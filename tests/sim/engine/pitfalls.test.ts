import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { spread } from '../../support/arbitrary-numbers.ts';
import { big, toDouble } from '../../support/big-real.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { eventsOf, secondsFrom, setTimes, storedRun } from '../../support/stored-run.ts';
import {
  astable,
  capacitor,
  drivenControl,
  lowPulses,
  monostable,
  resistor,
  signal,
  supply,
  timer,
} from '../../support/timer-circuits.ts';

/** One pulse of 1 ms at 0.1 s. */
const onePulse = signal('G1', 'in', lowPulses(9, { period: 1e9, width: 1e-3, delay: 0.1, count: 1 }), {
  resistance: 0,
});

describe('pitfall P1: a degenerate start', () => {
  /** An astable whose capacitors are empty: both comparators have 0 V on either side. */
  const empty = (control: number, family: string): FilePart[] => [
    ...astable({ voltage: 9, first: 10e3, second: 22e3, capacitance: 1e-7, ofTimer: { family } }),
    capacitor('C2', 'control', 'ground', control),
  ];

  for (const control of [1e-11, 1e-9, 1e-8]) {
    test(`both comparators on their limits at 0, ${control} F at CONTROL: the slopes decide, once`, () => {
      const trace = storedRun(empty(control, 'ideal'), 0.1);
      const atStart = trace.events.filter(({ time, kind }) => time === 0 && kind !== 'piece').map(({ kind }) => kind);
      // The trigger reference rises faster than the timing capacitor, so TRIGGER lies below it from the first moment.
      expect(atStart).toEqual(['triggerLow', 'set', 'outputHigh']);
      // Once CONTROL has settled it oscillates as ever: ln 2 (R1 + R2) C.
      expect(errorOf(setTimes(trace).at(-1)!, Math.LN2 * 32e3 * 1e-7)).toBeLessThanOrEqual(1e-12);
    });
  }

  test('where the timing capacitor is the faster one there is no first event: an ideal timer says so, one with a delay starts', () => {
    // TRIGGER and THRESHOLD are both passed from the first moment on whatever the latch does, at every scale of time.
    const outcome = runCircuit(circuitOf(empty(1e-6, 'ideal')), { until: 0.1, observers: [] });
    expect(outcome).toMatchObject({ code: 'chatter', time: 0, parts: ['U1'] });
    for (const family of ['cmos', 'bipolar']) {
      expect(runCircuit(circuitOf(empty(1e-6, family)), { until: 0.1, observers: [] }).code).toBe('reached');
    }
  });

  test('an ideal timer whose inputs rest on their limits for ever never switches', () => {
    const parts = [
      supply(9),
      timer('U1', { trigger: 'third', threshold: 'two', output: 'out' }, { start: 'set' }),
      resistor('R1', 'rail', 'two', 1e3),
      resistor('R2', 'two', 'third', 1e3),
      resistor('R3', 'third', 'ground', 1e3),
    ];
    expect(storedRun(parts, 1e6).events).toEqual([]);
  });
});

describe('pitfall P2: no event fires twice for rounding', () => {
  test('an astable of any values goes through the same events in every period', () => {
    const families = fc.constantFrom('ideal', 'cmos', 'bipolar');
    fc.assert(
      fc.property(
        families,
        spread(1e3, 1e6),
        spread(1e3, 1e6),
        spread(1e-9, 1e-5),
        spread(5, 15),
        (family, first, second, capacitance, voltage) => {
          // With room for the delays of the families, 2 x 0.3 us and less.
          const period = Math.LN2 * (first + 2 * second) * capacitance + 1e-6;
          const parts = astable({ voltage, first, second, capacitance, ofTimer: { family } });
          const kinds = eventsOf(
            storedRun(parts, 12 * period),
            'U1',
            'triggerLow',
            'triggerHigh',
            'thresholdOver',
            'set',
            'cleared',
            'outputHigh',
            'outputLow',
          ).map(({ kind }) => kind);
          const periods = kinds.join(' ').split('thresholdOver').slice(2, -1);
          expect(periods.length).toBeGreaterThanOrEqual(8);
          expect(new Set(periods).size).toBe(1);
        },
      ),
    );
  });

  test('a comparator that fired is not fired again by the rounding of its own instant, in ten thousand periods', () => {
    const trace = storedRun(
      astable({ voltage: 9, first: 12.3e3, second: 45.6e3, capacitance: 7.89e-8 }),
      1e4 * Math.LN2 * 103.5e3 * 7.89e-8,
    );
    const over = eventsOf(trace, 'U1', 'thresholdOver');
    for (let k = 1; k < over.length; k++) expect(secondsFrom(over[k - 1], over[k])).toBeGreaterThan(5e-3);
  });
});

describe('pitfall P3: a level that grazes its limit', () => {
  /** A step through C1 into R1, on through R2 into C2: THRESHOLD sees exp(-a t) - exp(-b t) times a size. */
  function bump(control: number): FilePart[] {
    return [
      supply(9),
      timer('U1', { trigger: 'rail', threshold: 'y', output: 'out', control: 'control' }, { start: 'set' }),
      drivenControl(control),
      signal(
        'G1',
        'in',
        {
          shape: 'points',
          between: 'steps',
          points: [
            [0, 0],
            [1, 9],
          ],
        },
        { resistance: 0 },
      ),
      capacitor('C1', 'in', 'x', 1e-7),
      resistor('R1', 'x', 'ground', 1e4),
      resistor('R2', 'x', 'y', 1e4),
      capacitor('C2', 'y', 'ground', 1e-7),
    ];
  }

  /** With u = 1 ms, y = 9 (exp(-p t) - exp(-q t)) / (q - p) / u, p and q = (3 -+ sqrt 5) / 2 / u; greatest at ln(q/p) / (q - p). */
  const [p, q] = [(3 - Math.sqrt(5)) / 2e-3, (3 + Math.sqrt(5)) / 2e-3];
  const top = Math.log(q / p) / (q - p);
  const peak = (9 * (Math.exp(-p * top) - Math.exp(-q * top))) / (q - p) / 1e-3;

  test('that passes its limit by a billionth of it or more fires, just before the top', () => {
    for (const miss of [1e-3, 1e-6, 1e-9]) {
      const [over] = eventsOf(storedRun(bump(peak * (1 - miss)), 1.1), 'U1', 'thresholdOver');
      // Near the top y = peak (1 - p q (t - top)^2 / 2): fires sqrt(2 miss / p q) before it, p q = 1e6.
      expect(errorOf(1 + top - over!.time, Math.sqrt(2 * miss * 1e-6))).toBeLessThanOrEqual(2 * Math.sqrt(miss) + 1e-2);
    }
  });

  test('that stays a billionth below its limit never fires', () => {
    for (const miss of [1e-3, 1e-6, 1e-9, 1e-12]) {
      expect(eventsOf(storedRun(bump(peak * (1 + miss)), 100), 'U1', 'thresholdOver')).toEqual([]);
    }
  });
});

describe('pitfall P4: equal and nearly equal time constants', () => {
  test('two monostables of the same values, or of values a few bits apart, each keep R C ln 3', () => {
    for (const factor of [1, 1 + 2 ** -52, 1 + 2 ** -50, 1 + 1e-13, 1 + 1e-9]) {
      const parts = [
        ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6 }),
        timer('U2', { trigger: 'in', output: 'out2', threshold: 'other', discharge: 'other' }),
        resistor('R2', 'rail', 'other', 10e3 * factor),
        capacitor('C2', 'other', 'ground', 1e-6),
        onePulse,
      ];
      const trace = storedRun(parts, 0.2);
      expect(errorOf(setTimes(trace, 'U1'), [0.01 * Math.log(3)])).toBeLessThanOrEqual(1e-12);
      expect(errorOf(setTimes(trace, 'U2'), [0.01 * factor * Math.log(3)])).toBeLessThanOrEqual(1e-12);
    }
  });

  test('a symmetrical pair coupled by a resistor so large that its two rates agree to 1e-15', () => {
    const parts = [
      ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6 }),
      resistor('R2', 'rail', 'other', 10e3),
      capacitor('C2', 'other', 'ground', 1e-6, { initial: 9 }),
      resistor('R3', 'timing', 'other', 1e19),
      onePulse,
    ];
    expect(errorOf(setTimes(storedRun(parts, 0.2)), [0.01 * Math.log(3)])).toBeLessThanOrEqual(1e-12);
  });
});

describe('pitfall P5: stiffness', () => {
  test('a state of 1 ns beside an interval of 1e5 s costs neither digits nor events', () => {
    const parts = [
      ...monostable({ voltage: 9, resistance: 10e6, capacitance: 10e-3 }),
      onePulse,
      resistor('R2', 'in', 'fast', 10),
      capacitor('C2', 'fast', 'ground', 100e-12),
    ];
    const trace = new StoredTrace();
    const outcome = runCircuit(circuitOf(parts), { until: 2e5, observers: [trace] });
    expect(errorOf(setTimes(trace), [1e5 * Math.log(3)])).toBeLessThanOrEqual(1e-12);
    expect(outcome.events).toBeLessThanOrEqual(8);
  });

  test('a discharge over 10 ohm against 10 Mohm keeps the closed form', () => {
    const [first, second, capacitance, on] = [10e6, 1e6, 1e-9, 10];
    const parts = astable({ voltage: 9, first, second, capacitance, ofTimer: { with: { dischargeResistance: on } } });
    const trace = storedRun(parts, 0.2);
    const lows = eventsOf(trace, 'U1', 'set', 'cleared').flatMap((event, k, all) =>
      event.kind === 'set' && k > 1 ? [secondsFrom(all[k - 1], event)] : [],
    );
    // Towards V Ron / (R1 + Ron) over R2 + R1 // Ron.
    const aim = (9 * on) / (first + on);
    const expected = (second + (first * on) / (first + on)) * capacitance * Math.log((6 - aim) / (3 - aim));
    for (const low of lows) expect(errorOf(low, expected)).toBeLessThanOrEqual(1e-12);
  });
});

describe('pitfall P6: switching without time passing', () => {
  const ring = (delay: number): FilePart[] => [
    supply(9),
    timer('U1', { trigger: 'out', threshold: 'out', output: 'out' }, { with: { delay } }),
  ];

  test('a timer whose output drives its own comparators ends as chatter, named', () => {
    const outcome = runCircuit(circuitOf(ring(0)), { until: 1, observers: [] });
    expect(outcome).toMatchObject({ code: 'chatter', ok: false, time: 0, parts: ['U1'] });
    expect(outcome.message).toMatch(
      /^U1 keep switching each other without time passing: there is no state in which they rest\. /,
    );
    expect(outcome.events).toBeLessThan(1000);
  });

  test('with a delay in the loop it is an oscillator of twice the delay', () => {
    const rises = eventsOf(storedRun(ring(1e-3), 0.1), 'U1', 'outputHigh');
    expect(rises.length).toBeGreaterThanOrEqual(49);
    for (let k = 1; k < rises.length; k++) {
      expect(errorOf(secondsFrom(rises[k - 1], rises[k]), 2e-3)).toBeLessThanOrEqual(1e-14);
    }
  });

  test('chatter that begins later keeps what was computed before', () => {
    const parts: FilePart[] = [
      supply(9),
      timer('U1', { trigger: 'x', threshold: 'x', output: 'out' }),
      resistor('R1', 'rail', 'x', 1e3),
      resistor('R2', 'x', 'ground', 1e3),
      { name: 'S1', kind: 'switch', a: 'out', b: 'x', presses: [{ at: 0.5, for: 1 }] },
    ];
    const trace = new StoredTrace();
    const outcome = runCircuit(circuitOf(parts), { until: 1, observers: [trace] });
    expect(outcome).toMatchObject({ code: 'chatter', time: 0.5, parts: ['U1'] });
    expect(trace.at({ net: 'x' }, 0.25)).toBe(4.5);
  });
});

describe('pitfall P7: signs lost in rounding', () => {
  test('a capacitor that tends exactly to its limit never passes it', () => {
    // A leak of 2 R makes the aim 2/3 of the supply; a second state shares the net in the second circuit.
    for (const more of [[], [resistor('R2', 'timing', 'y', 1e3), capacitor('C2', 'y', 'ground', 1e-6)]]) {
      const parts = [
        ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6, ofCapacitor: { leakage: 20e3 } }),
        onePulse,
        ...more,
      ];
      const trace = storedRun(parts, 1e4);
      expect(eventsOf(trace, 'U1', 'set')).toHaveLength(1);
      expect(eventsOf(trace, 'U1', 'thresholdOver')).toEqual([]);
    }
  });

  test('an aim a millionth above the limit passes it late, an aim a millionth below never', () => {
    for (const [factor, fires] of [
      [1 + 3e-6, true],
      [1 - 3e-6, false],
    ] as const) {
      const parts = [
        ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6, ofCapacitor: { leakage: 20e3 * factor } }),
        onePulse,
        resistor('R2', 'timing', 'y', 1e3),
        capacitor('C2', 'y', 'ground', 1e-9),
      ];
      expect(eventsOf(storedRun(parts, 1e4), 'U1', 'thresholdOver')).toHaveLength(fires ? 1 : 0);
    }
  });
});

describe('pitfall P8: a divider near a ratio boundary', () => {
  /** Numbers of the pulses that start an interval, from the two closed forms: charging, and emptying over `on`. */
  function startsByHand(pulses: number, period: number, on: number, interval: number): number[] {
    const [voltage, tau] = [9, interval / Math.log(3)];
    const resistance = tau / 1e-6;
    const aim = (voltage * on) / (resistance + on);
    const fast = ((resistance * on) / (resistance + on)) * 1e-6;
    const starts: number[] = [];
    let free = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < pulses; k++) {
      const now = k * period;
      if (now <= free) continue;
      const left =
        starts.length === 0 ? aim * (1 - Math.exp(-now / fast)) : aim + (6 - aim) * Math.exp(-(now - free) / fast);
      starts.push(k);
      free = now + tau * Math.log((voltage - left) / (voltage / 3));
    }
    return starts;
  }

  test('pulses that find the capacitor not yet empty start shorter intervals, as two closed forms say', () => {
    // T / Tin just below a whole number leaves a few discharge time constants (10 us) or less.
    const ratios = fc.tuple(fc.integer({ min: 1, max: 12 }), spread(1e-5, 1e-1)).map(([whole, miss]) => whole - miss);
    fc.assert(
      fc.property(ratios, spread(1e-2, 1e-1), (ratio, interval) => {
        const period = interval / ratio;
        const pulses = 60;
        const parts = [
          ...monostable({
            voltage: 9,
            resistance: interval / Math.log(3) / 1e-6,
            capacitance: 1e-6,
            ofTimer: { with: { dischargeResistance: 10 } },
          }),
          signal('G1', 'in', lowPulses(9, { period, width: period / 1e3 }), { resistance: 0 }),
        ];
        const sets = eventsOf(storedRun(parts, (pulses - 0.5) * period), 'U1', 'set');
        const found = sets.map(({ time }) => Math.round(time / period));
        expect(found).toEqual(startsByHand(pulses, period, 10, interval));
      }),
    );
  });
});

describe('pitfall P9: input edges', () => {
  test('come at the double nearest to their exact time, after a hundred thousand pulses as well', () => {
    const parts = [
      ...monostable({ voltage: 9, resistance: 1e3, capacitance: 1e-8 }),
      signal('G1', 'in', lowPulses(9, { period: 0.1, width: 0.03, delay: 0.7 }), { resistance: 0 }),
    ];
    const lows = eventsOf(storedRun(parts, 10_000.05), 'U1', 'triggerLow');
    expect(lows).toHaveLength(99_993 + 1);
    for (const k of [0, 1, 2, 3, 77_777, 99_993]) {
      expect(lows[k]!.time).toBe(toDouble(big(0.7) + BigInt(k) * big(0.1)));
    }
  });
});

describe('pitfall P11: a warmed-up run', () => {
  test('gives the bits of the first one', () => {
    const parts = [
      ...astable({ voltage: 9, first: 10e3, second: 22e3, capacitance: 1e-7, ofTimer: { family: 'bipolar' } }),
      capacitor('C2', 'control', 'ground', 1e-8),
    ];
    const first = storedRun(parts, 0.1);
    for (let k = 0; k < 50; k++) storedRun(parts, 0.1);
    expect(storedRun(parts, 0.1).events).toEqual(first.events);
  });
});
