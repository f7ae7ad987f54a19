import { describe, expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

const look = { id: 'look', kind: 'trace', board: 'lamp', until: '4 s', show: ['in', 'timing', 'out'] };

/** A monostable whose control pin, and with it both limits, is driven by what is given. */
function boardWith(control: unknown, more: object = {}): unknown {
  return {
    lamp: {
      parts: [
        { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V', ...more },
        {
          name: 'U1',
          kind: 'timer',
          family: 'ideal',
          pins: {
            supply: 'rail',
            ground: 'ground',
            trigger: 'in',
            output: 'out',
            control: 'control',
            threshold: 'timing',
            discharge: 'timing',
          },
        },
        { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: '100 kΩ' },
        { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: '10 µF' },
        {
          name: 'G1',
          kind: 'signal',
          plus: 'in',
          minus: 'ground',
          wave: { shape: 'pulses', period: '2 s', width: '8 ms', rest: '12 V', pulse: '0 V', delay: '0.5 s' },
        },
        ...(control === undefined
          ? []
          : [{ name: 'G2', kind: 'signal', plus: 'control', minus: 'ground', resistance: '0 Ω', wave: control }]),
      ],
    },
  };
}

function lanesOf(boards: unknown, columns = 8) {
  return resultOf(computed(documentOf(boards, [look]), { columns }), 'look', 'trace').lanes;
}

/** Voltages of a few hundred steps of a run agree with their closed form to far better than a nanovolt. */
function rounded(value: number): number {
  return Math.round(value * 1e9) / 1e9;
}

describe('computeDocument(document): comparator limits', () => {
  test('a limit that is stepped is given step by step, in the columns of its lane', () => {
    const boards = boardWith({ shape: 'square', frequency: 0.5, high: '9 V', low: '6 V' });
    const [limit] = lanesOf(boards)[1]?.limits ?? [];
    // A second of 9 V, a second of 6 V, and again: columns of half a second.
    expect([limit?.name, limit?.moves]).toEqual(['threshold limit', true]);
    // The mean, up to the rounding of a sum.
    expect(limit?.value).toBeCloseTo(7.5, 12);
    expect(limit?.course?.first.map(rounded)).toEqual([9, 9, 6, 6, 9, 9, 6, 6]);
    expect(limit?.course?.high.map(rounded)).toEqual([9, 9, 6, 6, 9, 9, 6, 6]);
  });

  test('the trigger limit follows at half the control voltage', () => {
    const boards = boardWith({ shape: 'square', frequency: 0.5, high: '9 V', low: '6 V' });
    const [limit] = lanesOf(boards)[0]?.limits ?? [];
    expect(limit?.name).toBe('trigger limit');
    // Half of 9 V and 6 V: three equal resistors make the limits (model of the timer).
    expect(limit?.course?.last.map(rounded)).toEqual([4.5, 4.5, 3, 3, 4.5, 4.5, 3, 3]);
  });

  test('a limit follows a supply that ramps', () => {
    const boards = boardWith(undefined, { changes: [{ at: '1 s', voltage: '6 V', over: '2 s' }] });
    const [limit] = lanesOf(boards, 4)[1]?.limits ?? [];
    // Two thirds of 12 V, 12 V falling to 9 V, 9 V falling to 6 V, 6 V.
    expect(limit?.course?.first.map(rounded)).toEqual([8, 8, 6, 4]);
    expect(limit?.course?.last.map(rounded)).toEqual([8, 6, 4, 4]);
  });

  test('a limit that stands still has no course', () => {
    const [limit] = lanesOf(boardWith(undefined))[1]?.limits ?? [];
    expect(limit?.moves).toBe(false);
    expect(limit?.course).toBeUndefined();
  });
});

describe('computeDocument(document, { instants })', () => {
  test('gives the exact state of the board at instants, however few columns there are', () => {
    const document = documentOf(boardWith(undefined), [look]);
    const options = { columns: 1, instants: [1, 0.25] };
    const { instants } = resultOf(computed(document, options), 'look', 'trace');
    expect(instants?.map(({ time }) => time)).toEqual([0.25, 1]);
    // Charging since the pulse at 0.5 s with R C = 1 s (closed form); rounding of a few steps.
    expect(instants?.[1]?.nets['timing']).toBeCloseTo(12 * (1 - Math.exp(-0.5)), 11);
    expect(instants?.[1]?.currents['R1']).toBeCloseTo((12 * Math.exp(-0.5)) / 100e3, 15);
    // Two thirds and one third of 12 V.
    expect(instants?.[1]?.limits['U1']?.threshold).toBeCloseTo(8, 11);
    expect(instants?.[1]?.limits['U1']?.trigger).toBeCloseTo(4, 11);
    expect(instants?.[0]?.nets['timing']).toBeCloseTo(0, 11);
  });

  test('leaves instants out where none were asked for', () => {
    const result = resultOf(computed(documentOf(boardWith(undefined), [look])), 'look', 'trace');
    expect('instants' in result).toBe(false);
  });
});

test('without sentences the pulses of a trace are the same but for these; those of fates keep them', () => {
  const why = { id: 'why', kind: 'fates', board: 'lamp', until: '4 s', timer: 'U1' };
  const document = documentOf(boardWith(undefined), [look, why]);
  const [full, bare] = [computed(document), computed(document, { sentences: false })];
  const pulsesOf = (results: typeof full) => resultOf(results, 'look', 'trace').timers[0]!.pulses;
  expect(pulsesOf(full).length).toBe(2);
  expect(pulsesOf(bare)).toEqual(pulsesOf(full).map((pulse) => ({ ...pulse, reason: '' })));
  expect(resultOf(bare, 'why', 'fates')).toEqual(resultOf(full, 'why', 'fates'));
});
