import { describe, expect, test } from 'vitest';
import type { MeasureContext, ReadingOutcome } from '#sim/measure/context.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingNames } from '#sim/measure/reading-names.ts';
import { readingObserver } from '#sim/measure/reading-observer.ts';
import { plain } from '../../support/circuit-issues.ts';
import { type MadeStep, play } from '../../support/made-run.ts';

/** Sums and differences of a handful of exact numbers: rounding only. */
const DIGITS = 13;

const board: MeasureContext = {
  circuit: {
    nets: ['ground', 'in', 'out', 'timing'],
    parts: [
      { name: 'R1', kind: 'resistor', nets: { a: 'out', b: 'ground' }, values: { resistance: 1000 } },
      { name: 'C1', kind: 'capacitor', nets: { a: 'timing', b: 'out' }, values: { capacitance: 1e-6, series: 0 } },
      { name: 'C2', kind: 'capacitor', nets: { a: 'timing', b: 'out' }, values: { capacitance: 1e-6, leakage: 1e6 } },
      { name: 'LED1', kind: 'led', nets: { a: 'out', b: 'ground' }, values: { limit: 0.02 } },
    ],
  },
  timers: [],
  highLevel: 6,
};

function take(steps: readonly MadeStep[], text: string, window = { from: 0, until: 1e9 }): ReadingOutcome {
  const reading = readingObserver(parseReading(text), board, window);
  play({ nets: board.circuit.nets, currents: ['R1', 'C1', 'C2', 'LED1'], steps }, reading);
  return reading.result();
}

/** Two seconds in which the net `timing` rises from 2 V to 5 V, with `out` at 1 V. */
const rising: readonly MadeStep[] = [{ length: 2, signals: { timing: { constant: 2, slope: 1.5 }, out: 1 } }];

describe('units of readings', () => {
  const units: Readonly<Record<string, string | null>> = {
    width: 's',
    low: 's',
    period: 's',
    frequency: 'Hz',
    duty: 'share',
    count: null,
    ratio: null,
    delay: 's',
    first: 's',
    level: 'V',
    peak: 'V',
    trough: 'V',
    mean: 'V',
    current: 'A',
    peak_current: 'A',
    power: 'W',
    light: 'share',
    widths: 's',
    lows: 's',
    periods: 's',
    edges: null,
  };
  const call = (name: string): string => {
    if (name === 'ratio' || name === 'delay') return `${name}(in, out)`;
    if (name === 'level') return 'level(out, 0.5 s)';
    if (name === 'light') return 'light(LED1)';
    return `${name}(${['current', 'peak_current', 'power'].includes(name) ? 'R1' : 'out'})`;
  };

  test.each([...readingNames])('%s', (name) => {
    const level = (volts: number): MadeStep => ({ length: 0.25, signals: { in: volts, out: volts } });
    const steps = [level(0), level(12), level(0), level(12), level(0), level(12), level(0)];
    const { value, unit } = take(steps, call(name));
    expect(value).not.toBeNull();
    expect(unit).toBe(units[name]);
    // The same without a single edge, and without any length.
    expect(take([level(0)], call(name)).unit).toBe(units[name]);
    expect(take([], call(name)).unit).toBe(units[name]);
  });
});

describe('capacitors', () => {
  test('the mean current is the charge that came in, by the voltages at both ends', () => {
    // 1 uF from 1 V to 4 V in 2 s.
    expect(take(rising, 'current(C1)').value).toBeCloseTo(1.5e-6, DIGITS + 6);
    // Within the second half: 1 uF by 1.5 V in 1 s.
    expect(take(rising, 'current(C1)', { from: 1, until: 2 }).value).toBeCloseTo(1.5e-6, DIGITS + 6);
  });

  test('leakage is added: the mean voltage over its resistance', () => {
    // 2.5 V across 1 Mohm are 2.5 uA.
    expect(take(rising, 'current(C2)').value).toBeCloseTo(4e-6, DIGITS + 6);
  });

  test('power is what the voltages at both ends store, and what the leakage burns', () => {
    // 1 uF (16 - 1) V^2 / 2 in 2 s; and the mean of V^2 from 1 V to 4 V, which is 7 V^2, over 1 Mohm.
    expect(take(rising, 'power(C1)').value).toBeCloseTo(3.75e-6, DIGITS + 6);
    expect(take(rising, 'power(C2)').value).toBeCloseTo(10.75e-6, DIGITS + 6);
  });

  test('a jump of the voltage has no finite peak of the current, and is told with its time', () => {
    const jumping: readonly MadeStep[] = [
      { length: 1, signals: { timing: 2 } },
      { length: 1, signals: { timing: 3 } },
    ];
    const { value, reason } = take(jumping, 'peak_current(C1)');
    expect(value).toBeNull();
    expect(plain(reason!)).toBe(
      'C1 changes its voltage in an instant at 1.000 s, through no resistance; its current has no finite peak',
    );
    // Seen from after it, and before it, there is none; where the window begins with it there is.
    expect(take(jumping, 'peak_current(C1)', { from: 1.5, until: 2 }).value).toBe(0);
    expect(take(jumping, 'peak_current(C1)', { from: 0, until: 1 }).value).toBe(0);
    expect(take(jumping, 'peak_current(C1)', { from: 1, until: 2 }).value).toBeNull();
  });

  test('rounding of the voltage is no jump', () => {
    const steps: readonly MadeStep[] = [
      { length: 1, signals: { timing: 2 } },
      { length: 1, signals: { timing: 2 * (1 + 1e-12) } },
    ];
    expect(take(steps, 'peak_current(C1)').value).toBe(0);
  });
});

describe('level(net, t)', () => {
  const steps: readonly MadeStep[] = [
    { length: 1, signals: { out: { constant: 0, slope: 2 } } },
    { length: 1, signals: { out: 5 } },
  ];

  test('is the voltage then, after a jump, and at the end of the run what it ends on', () => {
    expect(take(steps, 'level(out, 0 s)').value).toBe(0);
    expect(take(steps, 'level(out, 0.75 s)')).toEqual({ value: 1.5, unit: 'V' });
    expect(take(steps, 'level(out, 1 s)').value).toBe(5);
    expect(take(steps, 'level(out, 2 s)').value).toBe(5);
    expect(take([steps[0]!], 'level(out, 1 s)').value).toBe(2);
  });

  test('says that a time lies after the end', () => {
    const { value, reason } = take(steps, 'level(out, 2.5 s)');
    expect(value).toBeNull();
    expect(plain(reason!)).toBe('2.5 s lies after the end of the run at 2 s');
  });

  test('says that a time lies before the run', () => {
    expect(plain(take(steps, 'level(out, -1 s)').reason!)).toBe('the time lies before 0 s, where the run starts');
  });

  test('is gone through where its time lies in a period, and cares for none after it', () => {
    const { periods } = readingObserver(parseReading('level(out, 2 s)'), board, { from: 0, until: 9 });
    expect(periods!.begin(1)).toBe(2);
    expect(periods!.begin(2)).toBe(2);
    expect(periods!.begin(2.5)).toBe(Infinity);
  });
});

describe('peak and trough', () => {
  const steps: readonly MadeStep[] = [
    { length: 1, signals: { out: 3 } },
    { length: 1, signals: { out: { constant: 4, slope: -3 } } },
    { length: 1, signals: { out: 2 } },
  ];

  test('are those of all stretches of the window', () => {
    expect(take(steps, 'peak(out)').value).toBe(4);
    expect(take(steps, 'trough(out)').value).toBe(1);
    expect(take(steps, 'trough(out)', { from: 0, until: 1.5 }).value).toBe(2.5);
    expect(take(steps, 'peak(out)', { from: 2, until: 3 }).value).toBe(2);
  });
});

describe('edges of several nets', () => {
  test('a frequency is the inverse of a period', () => {
    const level = (volts: number): MadeStep => ({ length: 0.25, signals: { out: volts } });
    const steps = [12, 0, 12, 0, 12, 0].map(level);
    expect(take(steps, 'frequency(out)').value).toBe(2);
    expect(take(steps, 'period(out)').value).toBe(0.5);
  });

  test('a delay by falls is from fall to fall, whatever rises between', () => {
    const steps = [
      [12, 12],
      [0, 12],
      [0, 0],
      [0, 12],
    ].map(([first, second]): MadeStep => ({ length: 0.25, signals: { in: first!, out: second! } }));
    expect(take(steps, 'delay(in, out, fall)').value).toBe(0.25);
    expect(take(steps, 'delay(in, out, fall, rise)').value).toBe(0.5);
  });

  test('a term that stands still is part of a level', () => {
    // 4 V and 3 V that stand, less 2 V that decay with 1 s: 6 V at ln 2.
    const lifted = {
      constant: 4,
      terms: [
        [3, 0],
        [-2, 1],
      ] as const,
    };
    expect(take([{ length: 2, signals: { out: lifted } }], 'first(out)').value).toBeCloseTo(Math.LN2, DIGITS);
    const standing = {
      constant: 4,
      terms: [
        [3, 0],
        [1e-9, 1],
      ] as const,
    };
    expect(take([{ length: 2, signals: { out: standing } }], 'first(out)').value).toBe(0);
  });

  test('come in the order of time, whichever net is named first', () => {
    // Within one stretch `out` rises through 6 V at 0.5 s and `in` at 0.75 s: the delay is 0.25 s the one way round only.
    const steps: readonly MadeStep[] = [
      { length: 1, signals: { out: { constant: 0, slope: 12 }, in: { constant: 0, slope: 8 } } },
      { length: 1, signals: { out: 0, in: 0 } },
    ];
    expect(take(steps, 'delay(out, in)').value).toBeCloseTo(0.25, DIGITS);
    expect(take(steps, 'delay(in, out)').value).toBeNull();
  });

  test('at the end of the window, or after it within a stretch, are not counted', () => {
    const steps: readonly MadeStep[] = [{ length: 2, signals: { out: { constant: 0, slope: 6 } } }];
    expect(take(steps, 'count(out)', { from: 0, until: 1.5 }).value).toBe(1);
    expect(take(steps, 'count(out)', { from: 0, until: 1 }).value).toBe(0);
    expect(take(steps, 'count(out)', { from: 0, until: 0.5 }).value).toBe(0);
    expect(take(steps, 'count(out)', { from: 1, until: 2 }).value).toBe(1);
  });
});
