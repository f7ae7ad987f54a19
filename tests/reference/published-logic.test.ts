import { describe, expect, test } from 'vitest';
import { errorOf } from '../support/error-measure.ts';
import { boardOf, fatesOf, type FilePart } from '../support/run-board.ts';
import { eventsOf, setTimes, storedRun } from '../support/stored-run.ts';
import { lowPulses, monostable, resistor, signal, supply, timer } from '../support/timer-circuits.ts';

const V = 9;

/** A voltage that steps at given times. */
function steps(name: string, net: string, ...points: readonly (readonly [number, number])[]): FilePart {
  return signal(name, net, { shape: 'points', points, between: 'steps' }, { resistance: 0 });
}

describe('the truth table of the timer (ICM p. 8-172; TLC fax sheet)', () => {
  // RESET, TRIGGER and THRESHOLD driven; the output starts low or set high; a resistor from the rail shows DISCHARGE.
  const [low, high, belowThird, aboveThird, belowTwoThirds, aboveTwoThirds] = [
    0,
    V,
    0.3 * V,
    0.36 * V,
    0.63 * V,
    0.7 * V,
  ];
  const rows = [
    {
      title: 'RESET low: low, discharge on, whatever the others',
      reset: low,
      triggers: [belowThird, aboveThird],
      thresholds: [belowTwoThirds, aboveTwoThirds],
      output: () => 0,
    },
    {
      title: 'TRIGGER below 1/3: high, discharge off, whatever THRESHOLD',
      reset: high,
      triggers: [belowThird],
      thresholds: [belowTwoThirds, aboveTwoThirds],
      output: () => V,
    },
    {
      title: 'TRIGGER above 1/3, THRESHOLD above 2/3: low, discharge on',
      reset: high,
      triggers: [aboveThird],
      thresholds: [aboveTwoThirds],
      output: () => 0,
    },
    {
      title: 'TRIGGER above 1/3, THRESHOLD below 2/3: as it was',
      reset: high,
      triggers: [aboveThird],
      thresholds: [belowTwoThirds],
      output: (set: boolean) => (set ? V : 0),
    },
  ];
  for (const { title, reset, triggers, thresholds, output } of rows) {
    test(title, () => {
      for (const trigger of triggers) {
        for (const threshold of thresholds) {
          for (const set of [false, true]) {
            const parts = [
              supply(V),
              timer(
                'U1',
                { trigger: 'in', threshold: 'over', output: 'out', discharge: 'sink', reset: 'hold' },
                { start: set ? 'set' : 'cleared' },
              ),
              resistor('R1', 'rail', 'sink', 10e3),
              steps('G1', 'in', [0, trigger]),
              steps('G2', 'over', [0, threshold]),
              steps('G3', 'hold', [0, reset]),
            ];
            const trace = storedRun(parts, 1);
            expect(trace.at({ net: 'out' }, 0.5)).toBe(output(set));
            // The discharge switch is on while the output is low.
            expect(trace.at({ net: 'sink' }, 0.5)).toBe(output(set));
          }
        }
      }
    });
  }
});

describe('TRIGGER and the interval', () => {
  const values = { voltage: V, resistance: 100e3, capacitance: 1e-6 };
  const interval = Math.log(3) * 0.1;

  test('held low past the interval keeps the output high until it returns (ICM p. 6, TI-92 p. 9)', () => {
    const parts = [...monostable(values), steps('G1', 'in', [0, V], [0.1, 0], [0.5, V])];
    const trace = storedRun(parts, 1);
    // Exact: the output goes when TRIGGER does, and the capacitor has charged on past 2/3, V (1 - exp(-0.4 s / RC)).
    expect(setTimes(trace)).toEqual([0.4]);
    expect(errorOf(trace.before({ net: 'timing' }, 0.5), V * (1 - Math.exp(-4)))).toBeLessThanOrEqual(1e-12);
    const { pulses } = fatesOf(boardOf(parts), 1);
    expect(pulses.map(({ fate }) => fate)).toEqual(['started']);
    expect(errorOf(pulses[0]!.heldFor!, 0.4 - interval)).toBeLessThanOrEqual(1e-12);
  });

  test('low again while the interval runs changes nothing (ST section 4.1; TI-A p. 12)', () => {
    const once = [...monostable(values), steps('G1', 'in', [0, V], [0.1, 0], [0.101, V])];
    const again = [...monostable(values), steps('G1', 'in', [0, V], [0.1, 0], [0.101, V], [0.15, 0], [0.18, V])];
    // Condition 1: the same interval, cut into more segments.
    expect(setTimes(storedRun(again, 1))).toHaveLength(1);
    expect(errorOf(setTimes(storedRun(again, 1)), setTimes(storedRun(once, 1)))).toBeLessThanOrEqual(1e-14);
    expect(fatesOf(boardOf(again), 1).pulses.map(({ fate }) => fate)).toEqual(['started', 'ignored']);
  });

  test('with RESET, TRIGGER low: low at once, capacitor empty, and a new interval from the rising edge of RESET (TI-I p. 10, ST section 4.1)', () => {
    const parts = [
      ...monostable(values).filter(({ name }) => name !== 'U1'),
      timer('U1', { trigger: 'in', output: 'out', threshold: 'timing', discharge: 'timing', reset: 'hold' }),
      steps('G1', 'in', [0, V], [0.1, 0], [0.301, V]),
      steps('G2', 'hold', [0, V], [0.15, 0], [0.3, V]),
    ];
    const trace = storedRun(parts, 1);
    expect(trace.at({ net: 'out' }, 0.149)).toBe(V);
    for (const time of [0.15, 0.2, 0.299]) {
      expect(trace.at({ net: 'out' }, time)).toBe(0);
      expect(trace.at({ net: 'timing' }, time)).toBe(0);
    }
    const [first, second] = setTimes(trace);
    // 0.15 s less 0.1 s, exact to the rounding of those; then a whole interval (condition 1).
    expect(errorOf(first!, 0.05)).toBeLessThanOrEqual(1e-14);
    expect(errorOf(second!, interval)).toBeLessThanOrEqual(1e-12);
    expect(eventsOf(trace, 'U1', 'set').map(({ time, cause }) => [time, cause])).toEqual([
      [0.1, 'triggerLow'],
      [0.3, 'resetHigh'],
    ]);
  });
});

describe('output levels of the bipolar family', () => {
  /** The output pin with a load to ground (output high) or to the rail (output low). */
  function level(voltage: number, high: boolean, load: number): { volts: number; amperes: number } {
    const parts = [
      supply(voltage),
      timer('U1', { trigger: 'in', threshold: 'ground', output: 'out' }, { family: 'bipolar' }),
      steps('G1', 'in', [0, high ? 0 : voltage]),
      resistor('RL', high ? 'out' : 'rail', high ? 'ground' : 'out', load),
    ];
    const trace = storedRun(parts, 1);
    return { volts: trace.at({ net: 'out' }, 0.5), amperes: trace.at({ current: 'RL' }, 0.5) };
  }

  // Tolerance: half of the last digit printed; the load is chosen for the printed current, to 3 %.
  for (const [voltage, milliamperes, volts, load] of [
    [15, 100, 13.3, 133],
    [5, 100, 3.3, 33],
  ] as const) {
    test(`high, ${milliamperes} mA, ${voltage} V supply: ${volts} V (TI-A p. 4)`, () => {
      const found = level(voltage, true, load);
      expect(errorOf(found.amperes, milliamperes / 1000)).toBeLessThanOrEqual(0.03);
      expect(errorOf(found.volts, volts, { scale: 0.05 })).toBeLessThanOrEqual(1);
    });
  }

  for (const [milliamperes, volts, load] of [
    [10, 0.1, 1490],
    [50, 0.4, 292],
  ] as const) {
    test(`low, ${milliamperes} mA, 15 V supply: ${volts} V (TI-A p. 4)`, () => {
      const found = level(15, false, load);
      expect(errorOf(found.amperes, milliamperes / 1000)).toBeLessThanOrEqual(0.03);
      expect(errorOf(found.volts, volts, { scale: 0.05 })).toBeLessThanOrEqual(1);
    });
  }

  test('without a load, high: 1.2 V to 1.4 V below the supply (from memory); a pull-up lifts it to the supply', () => {
    const { volts } = level(15, true, 1e6);
    expect(15 - volts).toBeGreaterThanOrEqual(1.2);
    expect(15 - volts).toBeLessThanOrEqual(1.4);
    const parts = [
      supply(15),
      timer('U1', { trigger: 'in', threshold: 'ground', output: 'out' }, { family: 'bipolar' }),
      steps('G1', 'in', [0, 0]),
      resistor('RP', 'rail', 'out', 10e3),
    ];
    expect(storedRun(parts, 1).at({ net: 'out' }, 0.5)).toBe(15);
  });
});

describe('RESET of the bipolar family', () => {
  test('is not pulled low by 10 kΩ but is by 1 kΩ: it gives current (needs page, row 34)', () => {
    const out = (pullDown: number): number => {
      const parts = [
        supply(V),
        timer('U1', { trigger: 'in', threshold: 'ground', output: 'out', reset: 'hold' }, { family: 'bipolar' }),
        steps('G1', 'in', [0, 0]),
        resistor('R1', 'hold', 'ground', pullDown),
      ];
      return storedRun(parts, 1).at({ net: 'out' }, 0.5);
    };
    expect(out(10e3)).toBeGreaterThan(V - 1.5);
    expect(out(1e3)).toBeLessThan(0.1);
  });
});

describe('a touch plate at TRIGGER of the bipolar family', () => {
  test('with 22 MΩ to 9 V needs less than about 3.9 MΩ of finger: the trigger current goes through it too (derived from TI-A p. 4)', () => {
    const triggers = (finger: number): number => {
      const parts = [
        ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6, ofTimer: { family: 'bipolar' } }),
        resistor('R2', 'rail', 'in', 22e6),
        { name: 'S1', kind: 'button', a: 'in', b: 'plate', presses: [{ at: 0.1, for: 0.3 }] },
        resistor('RF', 'plate', 'ground', finger),
      ];
      return eventsOf(storedRun(parts, 0.5), 'U1', 'set').length;
    };
    expect(triggers(3.8e6)).toBe(1);
    expect(triggers(4e6)).toBe(0);
  });
});

describe('one input for both comparators', () => {
  test('joined, TRIGGER and THRESHOLD make an inverter that switches at 1/3 and 2/3 (common practice, no source)', () => {
    const points = [
      [0, 0],
      [1, V],
      [2, 0],
    ];
    const parts = [
      supply(V),
      timer('U1', { trigger: 'in', threshold: 'in', output: 'out' }),
      signal('G1', 'in', { shape: 'points', points, between: 'lines' }),
    ];
    const trace = storedRun(parts, 2);
    const [, cleared, set] = eventsOf(trace, 'U1', 'set', 'cleared');
    // A ramp of V in 1 s: exact to rounding.
    expect([cleared!.kind, set!.kind]).toEqual(['cleared', 'set']);
    expect(errorOf([cleared!.time, set!.time], [2 / 3, 5 / 3])).toBeLessThanOrEqual(1e-14);
  });

  test('apart, with THRESHOLD at ground: TRIGGER low switches on, RESET low switches off, and it stays (common practice, no source)', () => {
    const parts = [
      supply(V),
      timer('U1', { trigger: 'on', threshold: 'ground', output: 'out', reset: 'off' }),
      resistor('R1', 'rail', 'on', 10e3),
      resistor('R2', 'rail', 'off', 10e3),
      {
        name: 'S1',
        kind: 'button',
        a: 'on',
        b: 'ground',
        presses: [
          { at: 1, for: 0.1 },
          { at: 5, for: 0.1 },
        ],
      },
      { name: 'S2', kind: 'button', a: 'off', b: 'ground', presses: [{ at: 3, for: 0.1 }] },
    ];
    const trace = storedRun(parts, 8);
    expect([0.5, 2, 4, 7].map((time) => trace.at({ net: 'out' }, time))).toEqual([0, V, 0, V]);
  });

  test('two touch pads, 1 MΩ from TRIGGER to the supply and from THRESHOLD to ground, switch on and off (common practice, no source)', () => {
    // 5 V; the pads join each input to the other rail through a finger of 100 kΩ.
    const parts = [
      supply(5),
      timer('U1', { trigger: 'on', threshold: 'off', output: 'out' }, { family: 'cmos' }),
      resistor('R1', 'rail', 'on', 1e6),
      resistor('R2', 'off', 'ground', 1e6),
      { name: 'S1', kind: 'button', a: 'on', b: 'ground', resistance: 100e3, presses: [{ at: 1, for: 0.2 }] },
      { name: 'S2', kind: 'button', a: 'rail', b: 'off', resistance: 100e3, presses: [{ at: 3, for: 0.2 }] },
    ];
    const trace = storedRun(parts, 5);
    const levels = [0.5, 2, 4].map((time) => trace.at({ net: 'out' }, time));
    expect(errorOf(levels, [0, 5, 0], { scale: 5 })).toBeLessThanOrEqual(1e-6);
  });
});

test('a pulse-width modulator whose R C is a quarter of the clock period does not divide the clock (TI-I p. 15)', () => {
  // RA C = T / 4 with the values of TI-I Fig. 19: 3 kΩ, 0.02 µF, T = 240 µs; CONTROL from half to 0.9 of the supply.
  const period = 240e-6;
  const widths = [0.5, 0.7, 0.9].map((share) => {
    const parts = [
      ...monostable({ voltage: 12, resistance: 3e3, capacitance: 0.02e-6 }),
      { name: 'VC', kind: 'supply', plus: 'control', minus: 'ground', voltage: share * 12, origin: 'isolated' },
      signal('G1', 'in', lowPulses(12, { period, width: 10e-6 })),
    ];
    const trace = storedRun(parts, 20.5 * period);
    expect(eventsOf(trace, 'U1', 'set')).toHaveLength(21);
    return setTimes(trace)[3]! / period;
  });
  // Not in proportion (TI-I p. 15): -ln(1 - share) / 4.
  expect(
    errorOf(
      widths,
      [0.5, 0.7, 0.9].map((share) => -Math.log(1 - share) / 4),
    ),
  ).toBeLessThanOrEqual(1e-11);
});
