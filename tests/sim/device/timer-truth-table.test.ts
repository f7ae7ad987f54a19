import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

/**
 * The function table of the timer (ICM FN2867 p. 8-172, TLC555 fax sheet 31977): RESET low: output low, discharge on;
 * TRIGGER below 1/3: high, off; THRESHOLD above 2/3: low, on; else as before. RESET beats TRIGGER, TRIGGER beats THRESHOLD.
 * On 9 V the limits are 0.7 V, 3 V and 6 V.
 */
const VOLTAGE = 9;

/** A timer whose three inputs are driven without resistance; `hand` is pulled up and shows the discharge switch. */
function driven(
  waves: { reset: object; trigger: object; threshold: object },
  start: 'set' | 'cleared' = 'cleared',
): FilePart[] {
  const drive = (name: string, net: string, wave: object): FilePart =>
    signal(name, net, wave as Record<string, unknown>, { resistance: 0 });
  return [
    supply(VOLTAGE),
    timer('U1', { reset: 'r', trigger: 't', threshold: 'th', output: 'out', discharge: 'hand' }, { start }),
    resistor('R1', 'rail', 'hand', 1e3),
    drive('G1', 'r', waves.reset),
    drive('G2', 't', waves.trigger),
    drive('G3', 'th', waves.threshold),
  ];
}

function constant(level: number): object {
  return { shape: 'constant', level };
}

function outputAfter(
  reset: number,
  trigger: number,
  threshold: number,
  start: 'set' | 'cleared',
): { out: number; hand: number } {
  const parts = driven({ reset: constant(reset), trigger: constant(trigger), threshold: constant(threshold) }, start);
  const trace = storedRun(parts, 1e-3);
  return { out: trace.at({ net: 'out' }, 5e-4), hand: trace.at({ net: 'hand' }, 5e-4) };
}

const HIGH = { out: 9, hand: 9 };
const LOW = { out: 0, hand: 0 };

describe('timer function table, row by row', () => {
  for (const before of ['set', 'cleared'] as const) {
    for (const trigger of [1, 8]) {
      for (const threshold of [1, 8]) {
        test(`RESET low, TRIGGER ${trigger} V, THRESHOLD ${threshold} V, latch ${before} before: output low, discharge on`, () => {
          expect(outputAfter(0.2, trigger, threshold, before)).toEqual(LOW);
        });
      }
    }
    for (const threshold of [1, 8]) {
      test(`RESET high, TRIGGER low, THRESHOLD ${threshold} V, latch ${before} before: output high, discharge off`, () => {
        expect(outputAfter(9, 1, threshold, before)).toEqual(HIGH);
      });
    }
    test(`RESET high, TRIGGER high, THRESHOLD high, latch ${before} before: output low, discharge on`, () => {
      expect(outputAfter(9, 8, 8, before)).toEqual(LOW);
    });
    test(`RESET high, TRIGGER high, THRESHOLD low, latch ${before} before: as before`, () => {
      expect(outputAfter(9, 8, 1, before)).toEqual(before === 'set' ? HIGH : LOW);
    });
  }

  test('the limits are 0.7 V at RESET, a third of the supply at TRIGGER, two thirds at THRESHOLD', () => {
    expect(outputAfter(0.69, 1, 1, 'cleared')).toEqual(LOW);
    expect(outputAfter(0.71, 1, 1, 'cleared')).toEqual(HIGH);
    expect(outputAfter(9, 2.99, 1, 'cleared')).toEqual(HIGH);
    expect(outputAfter(9, 3.01, 1, 'cleared')).toEqual(LOW);
    expect(outputAfter(9, 8, 5.99, 'set')).toEqual(HIGH);
    expect(outputAfter(9, 8, 6.01, 'set')).toEqual(LOW);
  });

  test('an input that stands on its limit exactly has not passed it', () => {
    expect(outputAfter(9, 3, 1, 'cleared')).toEqual(LOW);
    expect(outputAfter(9, 8, 6, 'set')).toEqual(HIGH);
  });

  test('a RESET left out reads as tied to the supply', () => {
    const parts = driven({ reset: constant(0), trigger: constant(1), threshold: constant(1) }).map((part) =>
      part.kind === 'timer'
        ? {
            ...part,
            pins: { supply: 'rail', ground: 'ground', trigger: 't', threshold: 'th', output: 'out', discharge: 'hand' },
          }
        : part,
    );
    const loaded = [...parts, resistor('R2', 'r', 'ground', 1e3)];
    expect(storedRun(loaded, 1e-3).at({ net: 'out' }, 5e-4)).toBe(9);
  });
});

describe('timer function table in sequence', () => {
  /** Levels on both sides of every limit. */
  const levels = {
    reset: [0.2, 0.6, 0.8, 9],
    trigger: [0, 2.9, 3.1, 5.9, 6.1, 9],
    threshold: [0, 2.9, 3.1, 5.9, 6.1, 9],
  };
  const step = fc.record({
    reset: fc.constantFrom(...levels.reset),
    trigger: fc.constantFrom(...levels.trigger),
    threshold: fc.constantFrom(...levels.threshold),
  });

  test('whatever the inputs do one after the other or together, the output is what the table says', () => {
    fc.assert(
      fc.property(
        fc.array(step, { minLength: 1, maxLength: 12 }),
        fc.constantFrom('set', 'cleared'),
        (steps, start) => {
          const wave = (pin: 'reset' | 'trigger' | 'threshold'): object => ({
            shape: 'points',
            between: 'steps',
            points: steps.map((entry, k) => [k * 1e-3, entry[pin]]),
          });
          const parts = driven({ reset: wave('reset'), trigger: wave('trigger'), threshold: wave('threshold') }, start);
          const trace = storedRun(parts, steps.length * 1e-3);
          let latch = start === 'set';
          steps.forEach(({ reset, trigger, threshold }, k) => {
            if (reset < 0.7) latch = false;
            else if (trigger < VOLTAGE / 3) latch = true;
            else if (threshold > (2 * VOLTAGE) / 3) latch = false;
            const time = (k + 0.5) * 1e-3;
            expect(trace.at({ net: 'out' }, time)).toBe(latch ? 9 : 0);
            expect(trace.at({ net: 'hand' }, time)).toBe(latch ? 9 : 0);
          });
        },
      ),
    );
  });

  test('the discharge switch is on for as long as RESET is low, and the interval begins anew at its rise with TRIGGER low', () => {
    // TI SLFS022I p. 10 and ST section 4.1: reset and trigger together, the cycle restarts on the rising edge of reset.
    const wave = {
      shape: 'points',
      between: 'steps',
      points: [
        [0, 9],
        [1e-3, 0],
        [3e-3, 9],
      ],
    };
    const trace = storedRun(driven({ reset: wave, trigger: constant(1), threshold: constant(1) }), 4e-3);
    const found = [0.5e-3, 2e-3, 3.5e-3].map((time) => trace.at({ net: 'out' }, time));
    expect(found).toEqual([9, 0, 9]);
    const cause = trace.events.filter((event) => event.kind === 'set').map((event) => event.cause);
    expect(cause).toEqual(['triggerLow', 'resetHigh']);
  });
});
