import { describe, expect, it } from 'vitest';
import type { MeasureContext, ReadingOutcome } from '#sim/measure/context.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { readingObserver } from '#sim/measure/reading-observer.ts';
import { charging, type MadeRun, type MadeSignal, type MadeStretch, play } from '../../support/made-run.ts';

/** Sums and differences of a handful of exact numbers: rounding only. */
const DIGITS = 13;

const board: MeasureContext = {
  circuit: {
    nets: ['ground', 'in', 'out', 'timing'],
    parts: [
      { name: 'R1', kind: 'resistor', nets: { a: 'out', b: 'ground' }, values: { resistance: 1000 } },
      { name: 'C1', kind: 'capacitor', nets: { a: 'timing', b: 'ground' }, values: { capacitance: 1e-6, series: 0 } },
      {
        name: 'C2',
        kind: 'capacitor',
        nets: { a: 'timing', b: 'ground' },
        values: { capacitance: 1e-6, series: 10, leakage: Infinity },
      },
      { name: 'LED1', kind: 'led', nets: { a: 'out', b: 'ground' }, values: { limit: 0.02 } },
    ],
  },
  timers: [],
  highLevel: 6,
};

function take(run: MadeRun, calls: readonly string[], window = { from: 0, until: 1e9 }): ReadingOutcome[] {
  const readings = calls.map((call) => readingObserver(parseReading(call), board, window));
  play(run, ...readings);
  return readings.map((reading) => reading.result());
}

function valuesOf(run: MadeRun, calls: readonly string[], window = { from: 0, until: 1e9 }): unknown[] {
  return take(run, calls, window).map(({ value }) => value);
}

/** `in` and `out` as rows of levels, each entry lasting 0.25 s, which is exact in binary. */
function logic(levels: { readonly in?: string; readonly out?: string }): MadeRun {
  const length = Math.max(levels.in?.length ?? 0, levels.out?.length ?? 0);
  const steps = Array.from({ length }, (_, i): MadeStretch => {
    const volts = (row: string | undefined): number => (row?.[i] === '1' ? 12 : 0);
    return { length: 0.25, signals: { in: volts(levels.in), out: volts(levels.out) } };
  });
  return { nets: board.circuit.nets, steps };
}

function voltage(timing: MadeSignal | number, length: number): MadeRun {
  return { nets: board.circuit.nets, steps: [{ length, signals: { timing } }] };
}

describe('width and low', () => {
  it('are means over complete pulses, the one that begins with the rise at 0 included', () => {
    const run = logic({ out: '1101111001' });
    expect(valuesOf(run, ['width(out)', 'low(out)', 'widths(out)', 'lows(out)'])).toEqual([
      0.75,
      0.375,
      [0.5, 1],
      [0.25, 0.5],
    ]);
  });

  it('leave out a pulse that began before from or ends after until', () => {
    const run = logic({ out: '1101111001' });
    expect(valuesOf(run, ['width(out)', 'low(out)'], { from: 0.25, until: 2.5 })).toEqual([1, 0.375]);
    expect(valuesOf(run, ['widths(out)'], { from: 0, until: 1.5 })).toEqual([[0.5]]);
  });

  it('say of a run that ended before the window that it did', () => {
    // Four stretches of 0.25 s.
    expect(take(logic({ out: '0000' }), ['width(out)'], { from: 5, until: 20 })[0]?.reason).toBe(
      'out never rose from 5\u202fs on: the run ended before that, at 1\u202fs',
    );
  });

  it('do not say so of a run that ended just where the window begins', () => {
    const [width] = take(logic({ out: '0000' }), ['width(out)'], { from: 1, until: 20 });
    expect(width!.reason).toBe('out never rose at 1\u202fs, where the run ended');
  });

  it('say why there is none', () => {
    const window = { from: 0, until: 20 };
    expect(take(logic({ out: '0000' }), ['width(out)'], window)).toEqual([
      { value: null, reason: 'out never rose before 1\u202fs', unit: 's' },
    ]);
    const full: MadeRun = { nets: ['out'], steps: [{ length: 20, signals: { out: 12 } }] };
    expect(take(full, ['width(out)', 'widths(out)', 'low(out)'], window).map(({ reason }) => reason)).toEqual([
      'out never fell before 20\u202fs',
      'out never fell before 20\u202fs',
      'out never fell before 20\u202fs',
    ]);
    expect(take(logic({ out: '1111' }), ['low(out)'], { from: 0.25, until: 1 })[0]!.reason).toBe(
      'out never fell between 250\u202fms and 1\u202fs',
    );
    expect(take(logic({ out: '1011' }), ['width(out, 3 V)'], { from: 0.25, until: 1 })[0]!.reason).toBe(
      'out rose above 3\u202fV at 500.0\u202fms and never fell below 3\u202fV again before 1\u202fs',
    );
    expect(take(logic({ out: '0111' }), ['low(out)'])[0]!.reason).toBe('out never fell before 1\u202fs');
  });

  it('take a limit in place of half the supply', () => {
    const run: MadeRun = {
      nets: ['out'],
      steps: [
        { length: 4, signals: { out: { slope: 2 } } },
        { length: 1, signals: {} },
      ],
    };
    expect(valuesOf(run, ['width(out)', 'width(out, 2 V)'])).toEqual([1, 3]);
  });
});

describe('period, frequency, duty, periods', () => {
  const run = logic({ out: '1100100011' });

  it('count from rise to rise', () => {
    expect(valuesOf(run, ['period(out)', 'frequency(out)', 'periods(out)'])).toEqual([1, 1, [1, 1]]);
  });

  it('duty() is the high share of complete periods', () => {
    expect(valuesOf(run, ['duty(out)'])[0]).toBe(0.75 / 2);
  });

  it('count from fall to fall where that is asked', () => {
    // Falls at 0.5 and 1.25; high between them for 0.25 of 0.75 s.
    expect(valuesOf(run, ['period(out, fall)', 'periods(out, fall)'])).toEqual([0.75, [0.75]]);
    expect(valuesOf(run, ['duty(out, fall)'])[0]).toBeCloseTo(1 / 3, DIGITS);
  });

  it('say how often the net rose where that was not enough', () => {
    const reasons = take(logic({ out: '0110' }), ['period(out)', 'duty(out, fall)', 'periods(in)']);
    expect(reasons.map(({ value, reason }) => [value, reason])).toEqual([
      [null, 'out rose only once before 1\u202fs'],
      [null, 'out fell only once before 1\u202fs'],
      [null, 'in never rose before 1\u202fs'],
    ]);
  });
});

describe('count, first, edges', () => {
  const run = logic({ out: '0110100' });

  it('look at rises, or at falls where that is asked', () => {
    expect(valuesOf(run, ['count(out)', 'count(out, fall)', 'first(out)', 'first(out, fall)'])).toEqual([
      2, 2, 0.25, 0.75,
    ]);
  });

  it('count() of a net that never rose is 0, first() has no value', () => {
    expect(take(run, ['count(in)', 'first(in)', 'first(in, fall)'])).toEqual([
      { value: 0, unit: null },
      { value: null, reason: 'in never rose before 1.75\u202fs', unit: 's' },
      { value: null, reason: 'in never fell before 1.75\u202fs', unit: 's' },
    ]);
  });

  it('edges() lists both, or says that there were none', () => {
    expect(valuesOf(run, ['edges(out)'])[0]).toEqual([
      { time: 0.25, to: 'high' },
      { time: 0.75, to: 'low' },
      { time: 1, to: 'high' },
      { time: 1.25, to: 'low' },
    ]);
    expect(take(run, ['edges(in)'])[0]).toMatchObject({
      value: null,
      reason: 'in neither rose nor fell before 1.75\u202fs',
    });
  });
});

describe('ratio', () => {
  it('counts rises of in after the first rise of out up to its last, a rise at the last included', () => {
    // Rises of in: 0, 0.5, 1, 1.5, 2, 2.5; of out: 0 and 1.5. In (0, 1.5]: three.
    const run = logic({ in: '101010101010', out: '110000110000' });
    expect(valuesOf(run, ['ratio(out, in)'])).toEqual([3]);
  });

  it('is a mean where the steps are unlike', () => {
    // Rises of out at 0, 0.5 and 2; of in in (0, 2]: 0.5, 1, 1.5, 2.
    const run = logic({ in: '101010101010', out: '101000001000' });
    expect(valuesOf(run, ['ratio(out, in)'])).toEqual([2]);
  });

  it('takes edge words for out and in, one for both', () => {
    // Falls of out at 0.5 and 2, of in at 0.25, 0.75, 1.25, 1.75, 2.25.
    const run = logic({ in: '1010101010', out: '1100001100' });
    expect(valuesOf(run, ['ratio(out, in, fall)', 'ratio(out, in, fall, rise)'])).toEqual([3, 3]);
    expect(valuesOf(run, ['ratio(out, in, rise, fall)'])).toEqual([3]);
  });

  it('has no value below two rises of out', () => {
    const run = logic({ in: '1010', out: '0110' });
    expect(take(run, ['ratio(out, in)'])[0]).toEqual({
      value: null,
      reason: 'out rose only once before 1\u202fs; a ratio needs two',
      unit: null,
    });
    expect(take(logic({ in: '1010' }), ['ratio(out, in)'])[0]!.reason).toBe(
      'out never rose before 1\u202fs; a ratio needs two',
    );
  });
});

describe('delay', () => {
  it('goes from a rise of the first net to the next rise of the second, 0 where both come at once', () => {
    expect(valuesOf(logic({ in: '1000100', out: '0010010' }), ['delay(in, out)'])).toEqual([0.375]);
    expect(valuesOf(logic({ in: '0101', out: '0101' }), ['delay(in, out)'])).toEqual([0]);
  });

  it('counts from the last rise of the first net before the second answers', () => {
    expect(valuesOf(logic({ in: '10101000', out: '00000100' }), ['delay(in, out)'])).toEqual([0.25]);
  });

  it('takes an edge word for each net', () => {
    expect(valuesOf(logic({ in: '1100', out: '0001' }), ['delay(in, out, fall, rise)'])).toEqual([0.25]);
  });

  it('says which edge never came', () => {
    const reasonOf = (levels: { in?: string; out?: string }): string | undefined =>
      take(logic(levels), ['delay(in, out)'])[0]!.reason;
    expect(reasonOf({ out: '0101' })).toBe('in never rose before 1\u202fs');
    expect(reasonOf({ in: '0101' })).toBe('out never rose before 1\u202fs');
    expect(reasonOf({ in: '0001', out: '0110' })).toContain('out never rose after a time when in rose');
  });
});

describe('level, peak, trough, mean', () => {
  const rising = charging(0, 12, 0.4);

  it('level() is the value at a time, at a jump the one after it', () => {
    const run: MadeRun = {
      nets: board.circuit.nets,
      steps: [
        { length: 0.25, signals: { timing: rising } },
        { length: 0.25, signals: { timing: 1 } },
      ],
    };
    const [before, at, end, beyond] = take(run, [
      'level(timing, 125 ms)',
      'level(timing, 250 ms)',
      'level(timing, 500 ms)',
      'level(timing, 600 ms)',
    ]);
    expect(before!.value).toBeCloseTo(12 * (1 - Math.exp(-0.125 / 0.4)), DIGITS);
    expect([at!.value, end!.value]).toEqual([1, 1]);
    expect(beyond).toEqual({
      value: null,
      reason: '600\u202fms lies after the end of the run at 500\u202fms',
      unit: 'V',
    });
  });

  it('mean() of a charging capacitor is V (1 - tau/T (1 - exp(-T/tau)))', () => {
    const expected = 12 * (1 - (0.4 / 2) * (1 - Math.exp(-2 / 0.4)));
    expect(valuesOf(voltage(rising, 2), ['mean(timing)'])[0]).toBeCloseTo(expected, DIGITS);
  });

  it('mean() takes only what lies in the window', () => {
    const primitive = (t: number): number => 12 * (t + 0.4 * Math.exp(-t / 0.4));
    const [mean] = valuesOf(voltage(rising, 2), ['mean(timing)'], { from: 0.3, until: 0.7 });
    expect(mean).toBeCloseTo((primitive(0.7) - primitive(0.3)) / 0.4, DIGITS);
  });

  it('peak() and trough() include turning points and both sides of jumps', () => {
    // 8 (x - x^2), x = exp(-t), is highest at x = 1/2: 2.
    const run: MadeRun = {
      nets: board.circuit.nets,
      steps: [
        {
          length: 3,
          signals: {
            timing: {
              terms: [
                [8, 1],
                [-8, 2],
              ],
            },
          },
        },
        { length: 1, signals: { timing: { constant: -1, slope: 0.5 } } },
      ],
    };
    expect(valuesOf(run, ['peak(timing)', 'trough(timing)'])).toEqual([2, -1]);
    expect(valuesOf(run, ['peak(timing)'], { from: 3.5, until: 4 })).toEqual([-0.5]);
  });

  it('have no value over a window without length', () => {
    const window = { from: 1, until: 1 };
    for (const { value, reason } of take(
      { ...voltage(rising, 2), currents: ['R1'] },
      ['mean(timing)', 'peak(timing)', 'current(R1)', 'peak_current(R1)', 'power(R1)'],
      window,
    )) {
      expect([value, reason]).toEqual([null, 'nothing of the window was computed']);
    }
  });
});

describe('readings of parts', () => {
  const run: MadeRun = {
    nets: board.circuit.nets,
    currents: ['R1', 'C1', 'C2', 'LED1'],
    steps: [
      {
        length: 2,
        signals: {
          out: charging(10, 0, 0.5),
          'current(R1)': charging(0.01, 0, 0.5),
          'current(LED1)': charging(0.01, 0, 0.5),
          timing: charging(0, 12, 0.4),
          'current(C1)': charging(30e-6, 0, 0.4),
          'current(C2)': charging(30e-6, 0, 0.4),
        },
      },
      { length: 2, signals: { 'current(R1)': -0.001 } },
    ],
  };
  /** Charge of the decaying current over the first stretch, by the primitive of an exponential. */
  const charge = 0.01 * 0.5 * (1 - Math.exp(-2 / 0.5));

  it('current() is the mean from the first net to the second', () => {
    expect(valuesOf(run, ['current(R1)'])[0]).toBeCloseTo((charge - 0.002) / 4, DIGITS);
  });

  it('light() is the mean current as a share of the limit current', () => {
    expect(valuesOf(run, ['light(LED1)'])[0]).toBeCloseTo(charge / 4 / 0.02, DIGITS);
  });

  it('peak_current() is the largest in either direction', () => {
    expect(valuesOf(run, ['peak_current(R1)'])).toEqual([0.01]);
    expect(valuesOf(run, ['peak_current(R1)'], { from: 2, until: 4 })).toEqual([0.001]);
  });

  it('power() is the mean of voltage times current: V^2/R tau/2 (1 - exp(-2T/tau)) / T', () => {
    const energy = 10 * 0.01 * 0.25 * (1 - Math.exp(-4 / 0.5));
    expect(valuesOf(run, ['power(R1)'])[0]).toBeCloseTo(energy / 4, DIGITS);
  });

  it('current() and power() of a capacitor include the charge that moves in an instant', () => {
    // It is charged and emptied again: no charge and no energy stay.
    expect(valuesOf(run, ['current(C1)', 'power(C1)'])).toEqual([0, 0]);
    const full = 12 * (1 - Math.exp(-2 / 0.4));
    const [current, power] = valuesOf(run, ['current(C1)', 'power(C1)'], { from: 0, until: 2 }) as number[];
    expect(current).toBeCloseTo((1e-6 * full) / 2, 18);
    expect(power).toBeCloseTo((0.5e-6 * full ** 2) / 2, 16);
  });

  it('current() of a capacitor with series resistance is the mean of its current', () => {
    expect(valuesOf(run, ['current(C2)'])[0]).toBeCloseTo((30e-6 * 0.4 * (1 - Math.exp(-2 / 0.4))) / 4, 18);
  });

  it('peak_current() of a capacitor that is emptied through no resistance has no value', () => {
    const [{ value, reason } = {}] = take(run, ['peak_current(C1)']);
    expect(value).toBeNull();
    expect(reason).toBe(
      'C1 changes its voltage in an instant at 2.000\u202fs, through no resistance; its current has no finite peak',
    );
    expect(valuesOf(run, ['peak_current(C1)'], { from: 0, until: 2 })).toEqual([30e-6]);
  });
});

describe('readingObserver', () => {
  it('refuses a reading of a net that does not exist', () => {
    expect(() => readingObserver(parseReading('width(outt)'), board, { from: 0, until: 1 })).toThrow(
      'Did you mean out?',
    );
  });

  it('lists at most 100 000 entries and says that it cut', () => {
    const steps = Array.from(
      { length: 200_010 },
      (_, i): MadeStretch => ({ length: 0.5, signals: { out: i % 2 ? 0 : 12 } }),
    );
    const [widths, width] = take({ nets: ['out'], steps }, ['widths(out)', 'width(out)']);
    expect(widths!.value).toHaveLength(100_000);
    expect(widths!.reason).toBe('Only the first 100000 of 100005 entries are listed.');
    expect(width).toEqual({ value: 0.5, unit: 's' });
  });
});
