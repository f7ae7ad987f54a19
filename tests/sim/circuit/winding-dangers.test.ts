import { cautions } from '#sim/circuit/cautions.ts';
import { harmsOf, remedyOf } from '#sim/study/harm.ts';
import { describe, expect, test } from 'vitest';
import { circuitOf, plain } from '../../support/circuit-issues.ts';
import { battery, dangersOf, led, load, resistor, timer } from '../../support/danger-boards.ts';

const relay = (a: string, b: string, more: object = {}) => {
  return { name: 'K1', kind: 'relay', a, b, voltage: 12, resistance: 300, ...more };
};
const diode = (a: string, b: string) => ({ name: 'DX', kind: 'diode', a, b });
const npn = { name: 'T1', kind: 'transistor', base: 'base', collector: 'low', emitter: 'ground' };
const drive = resistor('R1', 'rail', 'base', 10e3);
const kick = (cathode: string): string =>
  `K1: nothing takes over the current of its winding when it is switched off. The kick, which is not computed, damages what switches it: put a diode across it, cathode at ${cathode}.`;

describe('a winding', () => {
  test('without a diode across it is a danger, with the net that its cathode belongs at', () => {
    expect(dangersOf(battery(), load, timer('bipolar'), relay('out', 'ground'))).toEqual([kick('out')]);
    expect(dangersOf(battery(), load, timer('bipolar'), relay('ground', 'out'))).toEqual([kick('out')]);
    expect(dangersOf(battery(), drive, npn, relay('low', 'rail'))).toEqual([kick('rail')]);
  });

  test('with a diode, an LED, a small resistor, or two of them in series across it is none', () => {
    const board = (...across: object[]) => dangersOf(battery(), drive, npn, relay('rail', 'low'), ...across);
    expect(board(diode('low', 'rail'))).toEqual([]);
    expect(board(resistor('R2', 'low', 'rail', 300))).toEqual([]);
    expect(board(diode('low', 'x'), resistor('R2', 'x', 'rail', 300))).toEqual([]);
    expect(board(resistor('R2', 'low', 'rail', 301))).toEqual([kick('rail')]);
    expect(board(diode('low', 'x'), resistor('R2', 'x', 'rail', 1e3))).toEqual([kick('rail')]);
    // 12 V against it is another matter.
    expect(board(led('low', 'rail')).some((danger) => danger.startsWith('K1'))).toBe(false);
  });

  test('with its diode the wrong way round is told what that does', () => {
    expect(dangersOf(battery(), drive, npn, relay('rail', 'low'), diode('rail', 'low'))).toContain(
      'DX lies across the winding of K1 the wrong way round: it takes the current that is meant for K1. Its cathode belongs at rail.',
    );
  });

  test('that nothing can drive is no danger', () => {
    expect(dangersOf(battery(), load, relay('ground', 'x'), resistor('R2', 'x', 'ground', 1e3))).toEqual([]);
  });

  test('is what a diode is put across, as the one part that helps', () => {
    const circuit = circuitOf([battery(), drive, npn, relay('rail', 'low')]);
    expect(harmsOf(circuit)).toHaveLength(1);
    expect(remedyOf(circuit, '')?.sentence).toBe('A diode across K1, cathode at rail would prevent it.');
  });
});

describe('the contact of a relay', () => {
  const across = (normallyOpen: string) =>
    dangersOf(battery(), load, diode('ground', 'rail'), relay('rail', 'ground', { common: 'rail', normallyOpen }));

  test('that joins both ends of a supply is a danger', () => {
    expect(across('ground')).toEqual(['K1 joins both ends of a supply or signal when it closes: a short circuit.']);
    expect(across('x')).toEqual([]);
  });

  test('that changes over between both ends of a supply is none: it never joins them', () => {
    const ends = { common: 'x', normallyOpen: 'rail', normallyClosed: 'ground' };
    const parts = [
      battery(),
      load,
      diode('ground', 'rail'),
      relay('rail', 'ground', ends),
      resistor('R2', 'x', 'ground', 1e4),
    ];
    expect(dangersOf(...parts)).toEqual([]);
  });
});

test('cautions say what contacts may switch, and how long windings bear being on', () => {
  const solenoid = { name: 'L1', kind: 'solenoid', a: 'on', b: 'ground', voltage: 12, resistance: 5, longest: '0.5 s' };
  const other = { ...solenoid, name: 'L2', longest: undefined };
  delete other.longest;
  const board = circuitOf([
    battery(),
    relay('rail', 'ground', { common: 'rail', normallyOpen: 'on' }),
    solenoid,
    other,
  ]);
  const said = cautions(board).map(plain);
  expect(said).toContain('Contacts of relays switch nothing but isolated extra-low voltage here, never mains: K1.');
  expect(said).toContain('What a winding moves gets hot when it stays on. Longest time on: L1 500 ms, L2 not stated.');
});
