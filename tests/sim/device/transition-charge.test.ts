import { simulate } from '#sim/run/run.ts';
import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

// 300 mA for 150 ns, as reported of bipolar timers (common practice, no source).
const charge = 45e-9;
const time = 150e-9;
const current = charge / time;

/** An unloaded timer whose output changes at 1 ms, behind a resistance of the supply. */
function once(resistance: number, voltage: number, more: readonly FilePart[] = []): FilePart[] {
  return [
    supply(voltage, { resistance }),
    timer(
      'U1',
      { trigger: 'in', threshold: 'ground', output: 'out' },
      {
        with: { transitionCharge: charge, transitionTime: time },
      },
    ),
    signal('G1', 'in', { shape: 'pulses', period: 1, width: 1e-4, delay: 1e-3, rest: voltage, pulse: 0 }),
    ...more,
  ];
}

const divider = 15e3;

describe('charge at each change of the output', () => {
  test('dips the rail by its current times the resistance of the supply, for its time', () => {
    for (const resistance of [0.5, 2, 10]) {
      const trace = storedRun(once(resistance, 9), 2e-3);
      const share = 1 + resistance / divider;
      const at = (when: number): number => trace.at({ net: 'rail' }, when);
      expect(errorOf(at(0.9e-3), 9 / share)).toBeLessThanOrEqual(1e-12);
      expect(errorOf(at(1e-3), (9 - resistance * current) / share)).toBeLessThanOrEqual(1e-12);
      expect(errorOf(at(1e-3 + 0.99 * time), (9 - resistance * current) / share)).toBeLessThanOrEqual(1e-12);
      expect(errorOf(at(1e-3 + 1.01 * time), 9 / share)).toBeLessThanOrEqual(1e-12);
    }
  });

  test('a 5 V rail without bypass dips by 3 V behind 10 Ω, as seen on breadboards (common practice, no source)', () => {
    const trace = storedRun(once(10, 5), 2e-3);
    expect(trace.before({ net: 'rail' }, 1e-3) - trace.at({ net: 'rail' }, 1e-3)).toBeCloseTo(3, 2);
  });

  test('100 nF at its pins give the charge with less than 0.5 V (derived: I R (1 - e^(-t / R C)))', () => {
    const resistance = 100;
    const trace = storedRun(once(resistance, 5, [capacitor('C9', 'rail', 'ground', 100e-9, { initial: 4.9 })]), 2e-3);
    const parallel = 1 / (1 / resistance + 1 / divider);
    const rest = 5 / (1 + resistance / divider);
    const meant = rest - current * parallel * (1 - Math.exp(-time / (parallel * 100e-9)));
    expect(errorOf(trace.before({ net: 'rail' }, 1e-3 + time), meant)).toBeLessThanOrEqual(1e-9);
    expect(rest - meant).toBeLessThan(0.5);
  });

  test('a supply without resistance does not notice', () => {
    expect(storedRun(once(0, 9), 2e-3).at({ net: 'rail' }, 1e-3)).toBe(9);
  });

  test('none where it is off: no family draws it until stated', () => {
    const [battery, , source] = once(10, 5);
    for (const family of ['ideal', 'bipolar', 'cmos']) {
      const chip = timer('U1', { trigger: 'in', threshold: 'ground', output: 'out' }, { family });
      const trace = storedRun([battery!, chip, source!], 2e-3);
      const [change] = eventsOf(trace, 'U1', 'outputHigh');
      const at = change!.time + change!.timeLow;
      expect(Math.abs(trace.at({ net: 'rail' }, at) - trace.before({ net: 'rail' }, at))).toBeLessThan(0.1);
    }
  });

  test('a change that comes while it still flows starts it anew', () => {
    const wave = { shape: 'pulses', period: 1, width: 100e-9, delay: 1e-3, rest: 9, pulse: 0 };
    const chip = timer(
      'U1',
      { trigger: 'in', threshold: 'rail', output: 'out' },
      {
        with: { transitionCharge: charge, transitionTime: time },
      },
    );
    const trace = storedRun([supply(9, { resistance: 2 }), chip, signal('G1', 'in', wave)], 2e-3);
    const low = (when: number): boolean => trace.at({ net: 'rail' }, when) < 8.6;
    // High at 0, low again at 100 ns: the rail is down until 250 ns.
    expect([10, 90, 110, 240, 260].map((ns) => low(1e-3 + ns * 1e-9))).toEqual([true, true, true, true, false]);
  });
});

describe('changes that come close', () => {
  /** What a supply without resistance gives beside all else (C), for so many pulses at TRIGGER. */
  function drawn(width: number, period: number, count: number): number {
    const board = (transitionCharge: number): FilePart[] => [
      supply(9),
      timer(
        'U1',
        { trigger: 'in', threshold: 'rail', output: 'out' },
        { with: { transitionCharge, transitionTime: time } },
      ),
      signal('G1', 'in', { shape: 'pulses', period, width, delay: 1e-4, count, rest: 9, pulse: 0 }),
    ];
    const [more, less] = [charge, 0].map((each) => {
      const { value } = simulate({ parts: board(each) }, { until: 2e-4 }).read('current(BT1)');
      return Math.abs(Number(value)) * 2e-4;
    });
    return more! - less!;
  }

  test.each([
    [10e-9, charge * (1 + 10 / 150)],
    [75e-9, charge * 1.5],
    [149e-9, charge * (1 + 149 / 150)],
    [151e-9, 2 * charge],
    [1e-6, 2 * charge],
  ])(
    'a pulse of %s s at the output draws one charge and the share of another that its gap is (decision 9)',
    (gap, meant) => {
      // The difference of two means, a thousandth of each: nine digits are left of fifteen and some.
      expect(errorOf(drawn(gap, 1, 1), meant)).toBeLessThanOrEqual(1e-9);
    },
  );

  test('four changes within one time draw the current once, from the first to its time after the last', () => {
    expect(errorOf(drawn(40e-9, 100e-9, 2), current * (140e-9 + time))).toBeLessThanOrEqual(1e-9);
  });
});

describe('two flashers on one rail', () => {
  /** Two free-running timers, the second slower by 1 %, on a battery with some ohms and nothing across it. */
  function pair(transitionCharge: number, more: readonly FilePart[] = []): FilePart[] {
    const chip = (name: string, suffix: string): FilePart =>
      timer(
        name,
        { trigger: `t${suffix}`, threshold: `t${suffix}`, discharge: `d${suffix}`, output: `out${suffix}` },
        {
          with: { transitionCharge, transitionTime: time, delay: 300e-9 },
        },
      );
    return [
      supply(9, { resistance: 5 }),
      ...[
        ['U1', 'a', 10e3],
        ['U2', 'b', 10.3e3],
      ].flatMap(([name, suffix, second]) => [
        chip(String(name), String(suffix)),
        resistor(`RA${suffix}`, 'rail', `d${suffix}`, 10e3),
        resistor(`RB${suffix}`, `d${suffix}`, `t${suffix}`, Number(second)),
        capacitor(`C${suffix}`, `t${suffix}`, 'ground', 1e-6),
      ]),
      ...more,
    ];
  }

  /** When an output fell: a dip lowers the upper limit, so intervals are what it ends early. */
  function falls(parts: readonly FilePart[], name: string): number[] {
    return eventsOf(storedRun(parts, 3), name, 'outputLow').map(({ time: at }) => at);
  }

  test('pull each other into step by their spikes, and run apart without them', () => {
    const apart = ['U1', 'U2'].map((name) => falls(pair(0), name).length);
    expect(apart[0]! - apart[1]!).toBeGreaterThanOrEqual(2);
    const [first, second] = ['U1', 'U2'].map((name) => falls(pair(charge), name));
    expect(first!.length).toBe(second!.length);
    // In step from the tenth flash on: less than a thousandth of a period apart.
    first!.slice(10).forEach((at, k) => expect(Math.abs(at - second![k + 10]!)).toBeLessThan(20e-6));
  });

  test('100 µF and 100 nF beside the timers let them run on their own again', () => {
    const bypass = [capacitor('CX', 'rail', 'ground', 100e-6, { initial: 9 })];
    const counts = ['U1', 'U2'].map((name) => falls(pair(charge, bypass), name).length);
    expect(counts[0]! - counts[1]!).toBeGreaterThanOrEqual(2);
  });
});
