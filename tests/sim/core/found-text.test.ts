import { foundText, quotedText } from '#sim/core/found-text.ts';
import { describe, expect, test } from 'vitest';

describe('foundText', () => {
  test.each<[unknown, string]>([
    ['12 apples', '"12 apples"'],
    ['', 'an empty text'],
    ['a\nb"c', '"a\\nb\\"c"'],
    [-5, '-5'],
    [NaN, 'not a number (NaN)'],
    [Infinity, 'infinity'],
    [-Infinity, 'minus infinity'],
    [true, 'true'],
    [undefined, 'nothing'],
    [null, 'null'],
    [[1], 'a list or an object'],
    [{ toString: null }, 'a list or an object'],
    [Object.create(null), 'a list or an object'],
    [() => 1, 'a function'],
    [Symbol('x'), 'a symbol'],
    [12n, 'the big integer 12'],
  ])('of case %# is %s', (input, text) => {
    expect(foundText(input)).toBe(text);
  });
});

describe('quotedText', () => {
  test('leaves 40 characters as they are', () => {
    expect(quotedText('x'.repeat(40))).toBe(`"${'x'.repeat(40)}"`);
  });

  test('cuts longer text after 40 characters', () => {
    expect(quotedText('x'.repeat(41))).toBe(`"${'x'.repeat(40)}"...`);
    expect(quotedText('x'.repeat(1e6))).toBe(`"${'x'.repeat(40)}"...`);
  });

  test('never cuts a character in two', () => {
    expect(quotedText('🚂'.repeat(40))).toBe(`"${'🚂'.repeat(40)}"`);
    expect(quotedText('🚂'.repeat(1000))).toBe(`"${'🚂'.repeat(40)}"...`);
  });
});
