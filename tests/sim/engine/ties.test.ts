import { describe, expect, test } from 'vitest';
import type { FilePart } from '../../support/run-board.ts';
import { eventsOf, storedRun } from '../../support/stored-run.ts';
import { lowPulses, monostable, resistor, signal, supply, timer } from '../../support/timer-circuits.ts';

const INTERVAL = 0.01 * Math.log(3);

function steps(...points: [time: number, value: number][]): Record<string, unknown> {
  return { shape: 'points', between: 'steps', points };
}

describe('ties (document.md, "Time 0, edges, ties")', () => {
  for (const k of [1, 2, 3, 5, 7, 11]) {
    test(`a pulse that begins when an interval of ${k} input periods ends finds it running`, () => {
      const period = INTERVAL / k;
      const parts = [
        ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6 }),
        signal('G1', 'in', lowPulses(9, { period, width: period / 10 }), { resistance: 0 }),
      ];
      const trace = storedRun(parts, (20 * (k + 1) - 0.5) * period);
      const starts = eventsOf(trace, 'U1', 'set').map(({ time }) => Math.round(time / period));
      // So the ratio is k + 1.
      expect(starts).toEqual(Array.from({ length: 20 }, (_, i) => i * (k + 1)));
      // Edge, trigger, then the end of the interval, which the pulse holds back until it is over.
      const tie = trace.events.filter(({ time }) => Math.abs(time - INTERVAL) < 1e-12);
      expect(tie.map(({ part, kind }) => `${part} ${kind}`)).toEqual(['G1 source', 'U1 triggerLow']);
      const [cleared] = eventsOf(trace, 'U1', 'cleared');
      expect(cleared!.time).toBeCloseTo(INTERVAL + period / 10, 12);
    });
  }

  test('trigger comes before threshold: both passed by one edge, the latch stays set', () => {
    const parts = [
      supply(9),
      timer('U1', { trigger: 'a', threshold: 'b', output: 'out' }, { start: 'set' }),
      signal('G1', 'a', steps([0, 9], [1, 0], [2, 9]), { resistance: 0 }),
      signal('G2', 'b', steps([0, 0], [1, 9]), { resistance: 0 }),
    ];
    const trace = storedRun(parts, 3);
    const story = trace.events.filter(({ part }) => part === 'U1').map(({ time, kind }) => `${time} ${kind}`);
    expect(story).toEqual(['1 triggerLow', '2 triggerHigh', '2 thresholdOver', '2 cleared', '2 outputLow']);
  });

  test('reset comes before both', () => {
    const parts = [
      supply(9),
      timer('U1', { trigger: 'a', threshold: 'b', output: 'out', reset: 'c' }),
      signal('G1', 'a', steps([0, 9], [1, 0]), { resistance: 0 }),
      signal('G2', 'b', steps([0, 0], [1, 9]), { resistance: 0 }),
      signal('G3', 'c', steps([0, 9], [1, 0]), { resistance: 0 }),
    ];
    const trace = storedRun(parts, 3);
    const story = trace.events.filter(({ part }) => part === 'U1').map(({ time, kind }) => `${time} ${kind}`);
    expect(story).toEqual(['1 resetLow', '1 triggerLow']);
  });

  test('all edges and presses of an instant are done before any comparator is read', () => {
    const press = [{ at: 1, for: 1 }];
    const parts: FilePart[] = [
      supply(9),
      timer('U1', { trigger: 'a', threshold: 'ground', output: 'out' }),
      // The signal lets go of the net at the very instant at which the switch takes it up, and back.
      signal('G1', 'a', steps([0, 9], [1, 0], [2, 9]), { resistance: 1e3 }),
      { name: 'S1', kind: 'switch', a: 'rail', b: 'a', presses: press },
      { name: 'S2', kind: 'switch', a: 'a', b: 'ground', resistance: 1e6, presses: press },
    ];
    const trace = storedRun(parts, 3);
    expect(trace.events.map(({ part }) => part)).not.toContain('U1');
    expect(trace.events.filter(({ time }) => time === 1).map(({ part, kind }) => `${part} ${kind}`)).toEqual([
      'G1 source',
      'S1 close',
      'S2 close',
    ]);
  });

  test('a press that ends when another begins leaves no gap', () => {
    const parts: FilePart[] = [
      supply(9),
      resistor('R1', 'rail', 'a', 1e3),
      timer('U1', { trigger: 'b', threshold: 'a', output: 'out' }, { start: 'set' }),
      resistor('R2', 'rail', 'b', 1e3),
      { name: 'S1', kind: 'button', a: 'a', b: 'ground', presses: [{ at: 0, for: 1 }] },
      { name: 'S2', kind: 'button', a: 'a', b: 'ground', presses: [{ at: 1, for: 1 }] },
    ];
    const over = eventsOf(storedRun(parts, 3), 'U1', 'thresholdOver');
    expect(over.map(({ time }) => time)).toEqual([2]);
  });

  test('events of one instant come after the segment that ends there and before the one that starts there', () => {
    const parts = [
      ...monostable({ voltage: 9, resistance: 10e3, capacitance: 1e-6 }),
      signal('G1', 'in', lowPulses(9, { period: 0.05, width: 1e-3, delay: 0.01 }), { resistance: 0 }),
    ];
    let now = 0;
    let segments = 0;
    storedRun(parts, 0.5).replay({
      segment({ start, startLow, length }) {
        expect(start + startLow).toBe(now);
        expect(length).toBeGreaterThan(0);
        now = start + startLow + length;
        segments++;
      },
      event({ time }) {
        // To the last bit of the two-part time.
        expect(Math.abs(time - now)).toBeLessThanOrEqual(Number.EPSILON * now);
        now = time;
      },
    });
    expect(segments).toBeGreaterThan(20);
  });
});
