import type { CaptureResult } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';
import published from '#shared/published-examples.json';
import { computed, documentOf, resultOf } from '../support/documents.ts';
import { astable, lowPulses, monostable, signal } from '../support/timer-circuits.ts';

/*
 * Measurements made from the intervals that sources print, never from a run: the capacitance that the source names has to come
 * back, though the board is marked with another one. Tolerance: half of the last digit that the source prints, or what is
 * said beside the value, and a thousandth for the distance of the samples.
 */
const ROWS = 4000;
const SAMPLED = 1e-3;
/** What stands on the part is half as much again, or two thirds. */
const MARKS = [1.5, 0.67];

/** Rows of an output that is high in some stretches. */
function rowsOf(high: readonly (readonly [from: number, until: number])[], until: number, volts: number): string {
  const rows = Array.from({ length: ROWS }, (_, index) => {
    const time = (index * until) / ROWS;
    return `${time.toPrecision(9)},${high.some(([from, to]) => time >= from && time < to) ? volts : 0}`;
  });
  return `time_s,out_V\n${rows.join('\n')}\n`;
}

function estimated(parts: unknown, cell: object): CaptureResult {
  const page = [{ id: 'bench', kind: 'capture', board: 'bench', adjust: ['C1'], ...cell }];
  return resultOf(computed(documentOf({ bench: { parts } }, page)), 'bench', 'capture');
}

/** What C1 is, by the estimate; a source's interval that is off by a share puts it off by as much. */
function expectCapacitance({ fit }: CaptureResult, capacitance: number, within: number): void {
  const [found] = fit?.estimates ?? [];
  // Also from two edges alone, one of which lays it over the prediction: by how far samples lie apart.
  expect(found?.uncertainty).toBeGreaterThan(0);
  expect((found?.uncertainty ?? 1) / capacitance).toBeLessThan(2 * SAMPLED);
  expect(Math.abs((found?.value ?? 0) / capacitance - 1)).toBeLessThanOrEqual(within + SAMPLED);
}

describe('a capture cell finds the capacitance behind a published interval', () => {
  for (const { source, printed, derived, ...values } of published.monostables) {
    const { interval, within } = printed ?? derived;
    test.each(MARKS)(`${source}: ${interval} s, marked %d times as much`, (times) => {
      const until = 4 * interval;
      const start = interval / 2;
      const marked = { ...values, capacitance: times * values.capacitance, ofTimer: { family: 'ideal' } };
      const wave = lowPulses(values.voltage, { period: until, width: interval / 50, delay: start, count: 1 });
      const data = rowsOf([[start, start + interval]], 2 * interval, values.voltage);
      const result = estimated([...monostable(marked), signal('G1', 'in', wave)], { data, until, align: 'first(out)' });
      // 1.1 stands for ln 3, which is 0.13 % less.
      expectCapacitance(result, values.capacitance, within / interval + 1.1 / Math.log(3) - 1);
    });
  }

  for (const { source, printed, derived, ...values } of published.astables) {
    const { high, low } = { ...derived, ...printed } as Partial<
      Record<'high' | 'low', { value: number; within: number }>
    >;
    if (high === undefined || low === undefined) continue;
    test.each(MARKS)(`${source}: ${high.value} s and ${low.value} s, marked %d times as much`, (times) => {
      const period = high.value + low.value;
      const count = 5;
      // It begins in the middle of a high time, whose beginning nobody has seen.
      const stretches = Array.from({ length: count + 1 }, (_, turn): [number, number] => {
        const until = high.value / 2 + turn * period;
        return [until - high.value, until];
      });
      const data = rowsOf(stretches, count * period, values.voltage);
      const parts = astable({ ...values, capacitance: times * values.capacitance });
      // Laid over by a fall, so that the first interval, which begins with an empty capacitor, comes before it.
      const cell = { data, from: period, until: 3 * count * period, align: 'first(out, fall)' };
      const share = (high.within + low.within) / period;
      // 0.7 stands for ln 2, which is 1 % less.
      expectCapacitance(estimated(parts, cell), values.capacitance, share + 0.7 / Math.LN2 - 1);
    });
  }
});
