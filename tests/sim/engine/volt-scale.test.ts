import { expect, test } from 'vitest';
import type { Program } from '#sim/engine/program.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import type { Law } from '#sim/network/element.ts';
import type { Wave } from '#sim/signal/wave.ts';

interface Given {
  readonly waves?: readonly object[];
  readonly initial?: readonly number[];
  readonly laws?: readonly Law[];
}

/** Of a program only its numbers count. */
function scaleOf({ waves = [], initial = [], laws = [] }: Given): number {
  return voltScale({
    inputs: waves.map((wave) => ({ part: 'G1', wave: wave as Wave })),
    initial,
    branches: [{ part: 'B1', a: 1, b: 0, start: 0, pieces: laws.map((law) => ({ law })) }],
  } as unknown as Program);
}

test('voltScale() is a millivolt where nothing is larger', () => {
  expect(scaleOf({})).toBe(1e-3);
  expect(scaleOf({ initial: [1e-4] })).toBe(1e-3);
});

test('voltScale() is the largest initial voltage or source, whatever its sign', () => {
  expect(scaleOf({ initial: [2, -7, 3] })).toBe(7);
  expect(scaleOf({ laws: [{ kind: 'thevenin', input: -1, offset: -0.65, resistance: 10 }] })).toBe(0.65);
  // Currents are no voltages.
  expect(scaleOf({ laws: [{ kind: 'current', current: 5 }, { kind: 'open' }] })).toBe(1e-3);
});

test.each([
  [{ shape: 'constant', level: -12 }, 12],
  [{ shape: 'pulses', rest: 9, pulse: 0 }, 9],
  [{ shape: 'pulses', rest: 0, pulse: -4 }, 4],
  [{ shape: 'square', low: -5, high: 3 }, 5],
  [{ shape: 'square', low: 0, high: 6 }, 6],
  // A sine reaches its offset plus and minus its amplitude.
  [{ shape: 'sine', offset: 2, amplitude: 3 }, 5],
  [{ shape: 'sine', offset: -2, amplitude: 3 }, 5],
  [
    {
      shape: 'points',
      points: [
        [100, 1],
        [200, -8],
      ],
    },
    8,
  ],
] as const)('voltScale() sees all levels of %o', (wave, expected) => {
  expect(scaleOf({ waves: [wave] })).toBe(expected);
});
