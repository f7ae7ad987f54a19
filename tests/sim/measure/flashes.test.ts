import { describe, expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { FLASHING_HARM } from '#sim/circuit/flashing.ts';
import type { Window } from '#sim/measure/context.ts';
import { flashObserver } from '#sim/measure/flashes.ts';
import { plain } from '../../support/circuit-issues.ts';
import { type MadeStretch, play } from '../../support/made-run.ts';

// Rates of flashes are 1 / gap of the times given. From 3 to 60 Hz lamps are warned of: circuit/flashing.ts.

const WARNING = `L${FLASHING_HARM.slice(1)}: make these slower, or warn those who watch.`;
/** The limit of each lamp (A); it is lit above a hundredth of it. */
const LIMIT = 0.02;

/** Lamps with their limit, and a part that is none. */
function circuitOf(lamps: readonly string[]): Circuit {
  const parts = [
    { name: 'R1', kind: 'resistor', values: {} },
    ...lamps.map((name) => ({ name, kind: 'led', values: { limit: LIMIT } })),
  ];
  return { parts } as unknown as Circuit;
}

/** Stretches in which lamps light up at the times given, for 1 ms each. */
function flashing(times: Readonly<Record<string, readonly number[]>>, current = LIMIT): MadeStretch[] {
  const edges = Object.entries(times).flatMap(([lamp, starts]) =>
    starts.flatMap((at) => [
      { at, lamp, now: current },
      { at: at + 0.001, lamp, now: 0 },
    ]),
  );
  edges.sort((p, q) => p.at - q.at);
  const steps: MadeStretch[] = [];
  let [reached, signals]: [number, Record<string, number>] = [0, {}];
  for (const { at, lamp, now } of edges) {
    if (at > reached) steps.push({ length: at - reached, signals });
    reached = Math.max(at, reached);
    signals = { ...signals, [`current(${lamp})`]: now };
  }
  return [...steps, { length: 1, signals }];
}

function told(
  times: Readonly<Record<string, readonly number[]>>,
  {
    window = { from: 0, until: 100 },
    prefix = '',
    current = LIMIT,
  }: { window?: Window; prefix?: string; current?: number } = {},
): string[] {
  const lamps = Object.keys(times);
  const observer = flashObserver(circuitOf(lamps), window, prefix);
  play({ nets: [], currents: lamps, steps: flashing(times, current) }, observer);
  return observer.result().map(plain);
}

describe('flashObserver()', () => {
  test('two gaps in a row make a flashing lamp: how often, and since when', () => {
    expect(told({ D1: [1, 1.25, 1.5] })).toEqual([WARNING, 'D1 flashes 4 times a second, from 1.00 s on.']);
  });

  test('one gap does not', () => {
    expect(told({ D1: [1, 1.25] })).toEqual([]);
  });

  test('two fast gaps with a slow one between are not in a row', () => {
    expect(told({ D1: [1, 1.25, 2.25, 2.5] })).toEqual([]);
    expect(told({ D1: [1, 1.25, 2.25, 2.5, 2.75] })).toEqual([WARNING, 'D1 flashes 4 times a second, from 2.25 s on.']);
  });

  test('3 a second are warned of, and 60, to a rounding; slower and faster ones are not', () => {
    const three = (gap: number) => [1, 1 + gap, 1 + 2 * gap];
    expect(told({ D1: three(1 / 3) })).toContain('D1 flashes 3 times a second, from 1.00 s on.');
    expect(told({ D1: three(1 / 60) })).toContain('D1 flashes 60 times a second, from 1.00 s on.');
    expect(told({ D1: three((1 / 3) * (1 + 1e-6)) })).toEqual([]);
    expect(told({ D1: three((1 / 60) * (1 - 1e-6)) })).toEqual([]);
  });

  test('rates that vary are told as a range, over all rows', () => {
    // Gaps of 0.25 s and 0.2 s; then, after a pause, of 0.125 s.
    const times = [1, 1.25, 1.45, 3, 3.125, 3.25, 3.5];
    expect(told({ D1: times })).toEqual([WARNING, 'D1 flashes 4 to 8 times a second, from 1.00 s on.']);
  });

  test('the shortest gap of a row is told wherever in it it was', () => {
    expect(told({ D1: [1, 1.25, 1.45] })[1]).toBe('D1 flashes 4 to 5 times a second, from 1.00 s on.');
    expect(told({ D1: [1, 1.2, 1.45] })[1]).toBe('D1 flashes 4 to 5 times a second, from 1.00 s on.');
  });

  test('a lamp that lights up slowly flashes when it passes its hundredth, in the window or not', () => {
    // From -1 to 1 of the limit in each 0.25 s: it passes a hundredth of it after 0.12625 s.
    const slow = { constant: -LIMIT, slope: 8 * LIMIT };
    const steps = [1, 2, 3].map(() => ({ length: 0.25, signals: { 'current(D1)': slow } }));
    const until = (time: number): string[] => {
      const observer = flashObserver(circuitOf(['D1']), { from: 0, until: time });
      play({ nets: [], currents: ['D1'], steps }, observer);
      return observer.result().map(plain);
    };
    expect(until(0.63)[1]).toBe('D1 flashes 4 times a second, from 126 ms on.');
    expect(until(0.62)).toEqual([]);
  });

  test('each lamp counts alone, and each is told', () => {
    expect(told({ D1: [1, 1.5, 2], D2: [1.25, 1.75, 2.25] })).toEqual([]);
    expect(told({ D1: [1, 1.25, 1.5], D2: [2, 2.2, 2.4] })).toEqual([
      WARNING,
      'D1 flashes 4 times a second, from 1.00 s on.',
      'D2 flashes 5 times a second, from 2.00 s on.',
    ]);
  });

  test('a lamp is lit above a hundredth of its limit', () => {
    expect(told({ D1: [1, 1.25, 1.5] }, { current: 0.0101 * LIMIT })).toHaveLength(2);
    expect(told({ D1: [1, 1.25, 1.5] }, { current: 0.0099 * LIMIT })).toEqual([]);
  });

  test('only flashes of the window count, its beginning included and its end not', () => {
    const times = { D1: [1, 1.25, 1.5] };
    expect(told(times, { window: { from: 1, until: 1.5001 } })).toHaveLength(2);
    expect(told(times, { window: { from: 1.0001, until: 100 } })).toEqual([]);
    expect(told(times, { window: { from: 0, until: 1.5 } })).toEqual([]);
  });

  test('only lamps with the prefix count, and are named without it', () => {
    const times = { 'a.D1': [1, 1.25, 1.5], 'b.D1': [1, 1.25, 1.5] };
    expect(told(times, { prefix: 'b.' })).toEqual([WARNING, 'D1 flashes 4 times a second, from 1.00 s on.']);
  });

  test('a lamp that is lit all the time does not flash', () => {
    const observer = flashObserver(circuitOf(['D1']), { from: 0, until: 100 });
    const steps = [1, 0.25, 0.25, 0.25].map((length) => ({ length, signals: { 'current(D1)': LIMIT } }));
    play({ nets: [], currents: ['D1'], steps }, observer);
    expect(observer.result()).toEqual([]);
  });
});
