import { standardKinds } from '#sim/device/standard-kinds.ts';
import { findValue, mainFields, valueAlong, withValue } from '#sim/document/knob.ts';
import { describe, expect, test } from 'vitest';

const parts = [
  { name: 'R1', kind: 'resistor', resistance: '1 kΩ' },
  { name: 'G1', kind: 'signal', wave: { shape: 'pulses', period: '1 s' } },
  { name: 'S1', kind: 'button', presses: [{ at: '1 s', for: '200 ms' }] },
  { name: 'S2', kind: 'button', presses: [] },
];
const found = (text: string): unknown => {
  const result = findValue(text, parts, standardKinds);
  return result.ok ? result.path : result.message;
};

describe('findValue(text, parts)', () => {
  test('takes the main field where only a part is named', () => {
    expect(found('R1')).toEqual({ index: 0, part: 'R1', steps: ['resistance'] });
  });

  test('follows steps into structured fields', () => {
    expect(found('G1.wave.period')).toEqual({ index: 1, part: 'G1', steps: ['wave', 'period'] });
  });

  test('follows the places of entries into lists', () => {
    expect(found('S1.presses[0].for')).toEqual({ index: 2, part: 'S1', steps: ['presses', '0', 'for'] });
    expect(found('S1.presses[1].for')).toBe(
      'must name an entry that S1.presses has; got "S1.presses[1].for". Its entries are [0] to [0].',
    );
    expect(found('S1.presses.first')).toContain('must name an entry that S1.presses has');
    expect(found('S2.presses[0].for')).toContain('It has none: state one.');
  });

  test('asks for the field where a part has no main one', () => {
    expect(found('G1')).toBe('must name a field of G1 too; got "G1". Write for example "G1.wave".');
  });

  test.each([
    ['R9', 'must name a part of the board (R1, G1, S1, S2); got "R9".'],
    ['R1.ohms', 'must name a field of R1 (resistance, tolerance, rating); got "R1.ohms".'],
    ['', 'must name a part of the board'],
    ['R1.', 'must name a field of R1'],
  ])('refuses %j', (text, message) => {
    expect(found(text)).toContain(message);
  });
});

describe('mainFields', () => {
  test('names a field that the kind has, for every kind but signal', () => {
    for (const kind of standardKinds.values()) {
      const main = mainFields.get(kind.kind);
      if (kind.kind === 'signal') expect(main).toBeUndefined();
      else expect(kind.fields.map(({ name }) => name)).toContain(main);
    }
  });
});

describe('withValue(data, steps, value)', () => {
  test('sets one value in a copy and leaves the rest', () => {
    const given = { wave: { shape: 'pulses', period: 1 }, name: 'G1' };
    const changed = withValue(given, ['wave', 'period'], 2);
    expect(changed).toEqual({ wave: { shape: 'pulses', period: 2 }, name: 'G1' });
    expect(given.wave.period).toBe(1);
    expect(valueAlong(changed, ['wave', 'period'])).toBe(2);
  });

  test('sets a value inside an entry of a list, which stays a list', () => {
    const given = {
      presses: [
        { at: 1, for: 2 },
        { at: 5, for: 2 },
      ],
    };
    const changed = withValue(given, ['presses', '1', 'for'], 3);
    expect(changed).toEqual({
      presses: [
        { at: 1, for: 2 },
        { at: 5, for: 3 },
      ],
    });
    expect(valueAlong(changed, ['presses', '1', 'for'])).toBe(3);
  });

  test('makes objects on the way, and cannot reach a prototype', () => {
    expect(withValue({}, ['a', 'b'], 1)).toEqual({ a: { b: 1 } });
    withValue({}, ['__proto__', 'polluted'], true);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
});
