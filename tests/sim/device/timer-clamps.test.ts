import { simulate } from '#sim/run/run.ts';
import { describe, expect, test } from 'vitest';
import { errorOf } from '../../support/error-measure.ts';
import type { FilePart } from '../../support/run-board.ts';
import { setTimes, storedRun } from '../../support/stored-run.ts';
import { capacitor, lowPulses, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

/** A timer without input currents, one of its inputs on the net `pin`, driven from `volts` through 1 kΩ. */
function driven(pin: string, volts: number, family: string): FilePart[] {
  const pins = { trigger: 'rail', threshold: 'ground', output: 'out', reset: 'rail', [pin]: 'pin' };
  const none = { thresholdCurrent: 0, triggerCurrent: 0, resetCurrent: 0 };
  return [
    supply(9),
    timer('U1', pins, { family, with: none }),
    signal('G1', 'pin', { shape: 'constant', level: volts }, { resistance: 1000 }),
  ];
}

function pinOf(parts: readonly FilePart[]): number {
  return storedRun(parts, 1e-3).at({ net: 'pin' }, 1e-3);
}

// Drop and resistance of the junctions: from memory, see the family table. The rest is Ohm's law.
const drop = 0.6;
const slope = 10;

describe('inputs of a timer past its rails', () => {
  test.each([
    ['threshold', 'bipolar'],
    ['reset', 'bipolar'],
    ['threshold', 'cmos'],
    ['trigger', 'cmos'],
    ['reset', 'cmos'],
  ])('%s of a %s timer is held a junction above the supply and below ground', (pin, family) => {
    const above = (20 - 9 - drop) / (1000 + slope);
    expect(errorOf(pinOf(driven(pin, 20, family)), 9 + drop + slope * above)).toBeLessThanOrEqual(1e-12);
    const below = (5 - drop) / (1000 + slope);
    expect(errorOf(pinOf(driven(pin, -5, family)), -(drop + slope * below))).toBeLessThanOrEqual(1e-12);
  });

  test('TRIGGER of a bipolar timer goes above the supply freely, and is held a junction below ground', () => {
    expect(pinOf(driven('trigger', 20, 'bipolar'))).toBe(20);
    expect(pinOf(driven('trigger', -5, 'bipolar'))).toBeGreaterThan(-0.7);
  });

  test('between the rails and a junction past them, nothing flows', () => {
    for (const volts of [-0.59, 0, 4, 9, 9.59]) expect(pinOf(driven('threshold', volts, 'cmos'))).toBe(volts);
  });

  test('an ideal timer lets its inputs go anywhere', () => {
    expect(pinOf(driven('threshold', 20, 'ideal'))).toBe(20);
    expect(pinOf(driven('trigger', -5, 'ideal'))).toBe(-5);
  });

  test('inputs on one net have each its own junctions, side by side', () => {
    const shared = (pins: readonly string[], volts: number, more: Record<string, unknown> = {}): number => {
      const nets = Object.fromEntries(pins.map((pin) => [pin, 'pin']));
      const none = { thresholdCurrent: 0, triggerCurrent: 0, resetCurrent: 0, ...more };
      const all = { trigger: 'rail', threshold: 'ground', output: 'out', reset: 'rail', ...nets };
      return pinOf([
        supply(9),
        timer('U1', all, { family: 'cmos', with: none }),
        signal('G1', 'pin', { shape: 'constant', level: volts }, { resistance: 1000 }),
      ]);
    };
    for (const [pins, count] of [
      [['trigger', 'threshold'], 2],
      [['trigger', 'reset'], 2],
      [['trigger', 'threshold', 'reset'], 3],
    ] as const) {
      const above = (20 - 9 - drop) / (1000 + slope / count);
      expect(errorOf(shared(pins, 20), 9 + drop + (slope / count) * above)).toBeLessThanOrEqual(1e-12);
      const below = (5 - drop) / (1000 + slope / count);
      expect(errorOf(shared(pins, -5), -(drop + (slope / count) * below))).toBeLessThanOrEqual(1e-12);
    }
    // TRIGGER's own junction to the supply conducts first where its drop is the smaller one: 10 Ω from 9.3 V on, and
    // another 10 Ω from 9.6 V on. Currents into the net add up to nothing.
    const meant = (60 / 1000 + (9 + 0.3) / slope + (9 + drop) / slope) / (1 / 1000 + 2 / slope);
    expect(errorOf(shared(['trigger', 'threshold'], 60, { triggerClampDrop: 0.3 }), meant)).toBeLessThanOrEqual(1e-12);
    // And none of it where TRIGGER has none.
    const alone = (20 - 9 - drop) / (1000 + slope);
    expect(
      errorOf(shared(['trigger', 'threshold'], 20, { triggerClampDrop: 'unlimited' }), 9 + drop + slope * alone),
    ).toBeLessThanOrEqual(1e-12);
  });

  test('CONTROL is held as well, beside its divider', () => {
    // 9 V and 0 V through 5 kΩ and 10 kΩ are 6 V behind 3333 Ω; with 20 V through 1 kΩ that is 16.77 V.
    const [share, inner] = [6, 1e4 / 3];
    const conductance = 1 / inner + 1 / 1000 + 1 / slope;
    const meant = (share / inner + 20 / 1000 + (9 + drop) / slope) / conductance;
    expect(errorOf(pinOf(driven('control', 20, 'bipolar')), meant)).toBeLessThanOrEqual(1e-12);
  });

  test('a driven pin is a fault of the part before its junction conducts', () => {
    const run = simulate({ parts: driven('threshold', 20, 'cmos') }, { until: 1e-3 });
    expect(run.faults().map(({ what, pin }) => [what, pin])).toContainEqual(['pin-high', 'threshold']);
  });

  test('own parameters take the junctions away', () => {
    const [first, chip, source] = driven('threshold', 20, 'cmos');
    const free = { ...chip!, with: { clampDrop: 'unlimited', triggerClampDrop: 'unlimited', thresholdCurrent: 0 } };
    expect(pinOf([first!, free, source!])).toBe(20);
  });
});

describe('a power-off while an input hangs on a charged capacitor', () => {
  const [ohms, farads, charged] = [100e3, 10e-6, 5];

  /** THRESHOLD on a capacitor charged to 5 V; the supply of 9 V is gone from 1 ms to 2 ms. */
  function interrupted(family: string): FilePart[] {
    const changes = [
      { at: 1e-3, voltage: 0 },
      { at: 2e-3, voltage: 9 },
    ];
    return [
      supply(9, { changes }),
      timer('U1', { trigger: 'rail', threshold: 'pin', output: 'out' }, { family, with: { thresholdCurrent: 0 } }),
      resistor('R1', 'rail', 'pin', ohms),
      capacitor('C1', 'pin', 'ground', farads, { initial: charged }),
    ];
  }

  test('it empties into the dead rail, down to one junction', () => {
    const trace = storedRun(interrupted('cmos'), 3e-3);
    const before = 9 - (9 - charged) * Math.exp(-1e-3 / (ohms * farads));
    expect(errorOf(trace.before({ net: 'pin' }, 1e-3), before)).toBeLessThanOrEqual(1e-12);
    // The junction's 10 Ω and the resistor side by side, towards a junction above 0 V.
    const conductance = 1 / slope + 1 / ohms;
    const aim = drop / slope / conductance;
    const meant = aim + (before - aim) * Math.exp((-2e-4 * conductance) / farads);
    expect(errorOf(trace.at({ net: 'pin' }, 1.2e-3), meant)).toBeLessThanOrEqual(1e-12);
    expect(trace.at({ net: 'pin' }, 2e-3)).toBeLessThan(0.61);
  });

  test('an ideal timer leaves it all but what its resistor takes', () => {
    const trace = storedRun(interrupted('ideal'), 3e-3);
    const before = trace.before({ net: 'pin' }, 1e-3);
    const meant = before * Math.exp(-1e-3 / (ohms * farads));
    expect(errorOf(trace.before({ net: 'pin' }, 2e-3), meant)).toBeLessThanOrEqual(1e-12);
  });
});

test('normal runs are as before: an interval never meets the junctions', () => {
  const wave = lowPulses(9, { period: 1, width: 1e-3, delay: 0.1, count: 1 });
  const run = (more: Record<string, unknown>): number | undefined =>
    setTimes(
      storedRun(
        [
          ...monostable({
            voltage: 9,
            resistance: 100e3,
            capacitance: 1e-6,
            ofTimer: { family: 'bipolar', with: more },
          }),
          signal('G1', 'in', wave),
        ],
        1,
      ),
    )[0];
  expect(run({})).toBe(run({ clampDrop: 'unlimited' }));
  expect(run({})).toBeGreaterThan(0.1);
});

test('a coupled edge on a CMOS TRIGGER is cut off a junction above the supply, on a bipolar one it is not', () => {
  const parts = (family: string): FilePart[] => [
    supply(5),
    timer('U1', { trigger: 'pin', threshold: 'ground', output: 'out' }, { family }),
    resistor('R1', 'rail', 'pin', 10e3),
    capacitor('C1', 'in', 'pin', 10e-9, { initial: -5 }),
    signal('G1', 'in', { shape: 'pulses', period: 1, width: 1e-3, delay: 1e-3, rest: 0, pulse: 5 }),
  ];
  const peak = (family: string): number => storedRun(parts(family), 1.5e-3).at({ net: 'pin' }, 1e-3);
  expect(peak('bipolar')).toBeGreaterThan(9.9);
  expect(peak('cmos')).toBeLessThan(6.4);
});
