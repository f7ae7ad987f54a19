import {
  anyCapacitance,
  anyResistance,
  choice,
  flag,
  quantity,
  tolerance,
  type Range,
} from '#sim/field/value-readers.ts';
import type { Unit } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';
import { plain } from '../../support/circuit-issues.ts';

describe('quantity(unit, range)', () => {
  test.each<[unknown, Unit, Range | undefined, number]>([
    ['4K7', 'Ω', undefined, 4700],
    [-5, 'V', undefined, -5],
    [0, 'Ω', { atLeast: 0 }, 0],
    [1, 'share', { atLeast: 0, atMost: 1 }, 1],
    ['50 %', 'share', { above: 0, below: 1 }, 0.5],
    ['none', 'Ω', { above: 0, word: 'none' }, Infinity],
    [Infinity, 'Ω', { above: 0, word: 'none' }, Infinity],
    ['1 GΩ', 'Ω', { above: 0, word: 'none' }, 1e9],
  ])('reads %j as %s within %j: %d', (input, unit, range, value) => {
    expect(quantity(unit, range)(input)).toEqual({ ok: true, value });
  });

  test.each<[unknown, Unit, Range | undefined, string]>([
    [-1, 'Ω', { atLeast: 0 }, 'must be at least 0 Ω; got −1 Ω. Choose a value in that range.'],
    [0, 'F', { above: 0 }, 'must be above 0 F; got 0 F. Choose a value in that range.'],
    [
      1.5,
      'share',
      { atLeast: 0, atMost: 1 },
      'must be at least 0 % and at most 100 %; got 150 %. Choose a value in that range.',
    ],
    // every digit is shown, so that no message reads "at most 1 V; got 1 V"
    [1.0000000001, 'V', { atMost: 1 }, 'must be at most 1 V; got 1.0000000001 V. Choose a value in that range.'],
    [Infinity, 'Ω', { above: 0 }, 'must be a resistance; got infinity. Write for example 68 kΩ or 4K7.'],
    ['none', 'Ω', { above: 0 }, 'must be a resistance; got "none". Write for example 68 kΩ or 4K7.'],
    [
      'never',
      'Ω',
      { above: 0, word: 'none' },
      'must be a resistance; got "never". Write for example 68 kΩ or 4K7. Or write "none".',
    ],
    [0, 'Ω', { above: 0, word: 'none' }, 'must be above 0 Ω; got 0 Ω. Choose a value in that range. Or write "none".'],
    [null, 'V', undefined, 'must be a voltage; got null. Write for example 5 V or 350 mV.'],
  ])('refuses %j as %s within %j', (input, unit, range, message) => {
    const read = quantity(unit, range)(input);
    expect(read.ok ? '' : plain(read.message)).toBe(message);
  });
});

test('anyResistance() takes 0 Ω and what can be computed with, and says what to write for less', () => {
  const read = anyResistance();
  expect([0, 1e-9, '10 mΩ', 1e300].map((input) => read(input).ok)).toEqual([true, true, true, true]);
  for (const input of [1e-300, 9e-10]) {
    expect(read(input)).toMatchObject({
      ok: false,
      message: expect.stringContaining('Write 0 Ω for a plain connection'),
    });
  }
  expect(read(-1).ok).toBe(false);
});

test('anyCapacitance() takes what can be computed with', () => {
  const read = anyCapacitance();
  expect([1e-15, '10 pF', 10].map((input) => read(input).ok)).toEqual([true, true, true]);
  expect([0, 1e-300, -1].map((input) => read(input).ok)).toEqual([false, false, false]);
});

test('choice(words) takes one of them, and names them all when it refuses', () => {
  const read = choice(['battery', 'isolated']);
  expect(read('battery')).toEqual({ ok: true, value: 'battery' });
  expect(read('batery')).toEqual({
    ok: false,
    message: 'must be one of battery, isolated; got "batery". Did you mean battery?',
  });
  expect(read(1)).toEqual({ ok: false, message: 'must be one of battery, isolated; got 1. Choose one of these.' });
});

test('flag() takes true and false and nothing that merely reads like them', () => {
  expect(flag()(true)).toEqual({ ok: true, value: true });
  expect(flag()(false)).toEqual({ ok: true, value: false });
  expect(flag()('true')).toEqual({
    ok: false,
    message: 'must be true or false; got "true". Write it without quotes.',
  });
  expect(flag()(0).ok).toBe(false);
});

test('tolerance() takes shares, per cent and letters', () => {
  expect(tolerance()('5 %')).toEqual({ ok: true, value: 0.05 });
  expect(tolerance()('K')).toEqual({ ok: true, value: 0.1 });
  expect(tolerance()(0)).toEqual({ ok: true, value: 0 });
  const refused = tolerance()(-0.1);
  expect(refused.ok ? '' : plain(refused.message)).toBe(
    'must be at least 0 and below 100 %; got -0.1, which is −10 %. Write for example 5 %, 0.05 or J.',
  );
});
