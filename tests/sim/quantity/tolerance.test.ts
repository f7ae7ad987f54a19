import { readTolerance, toleranceLetter } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';

describe('toleranceLetter', () => {
  // IEC 60062:2016, section 5; values from memory.
  test.each([
    ['B', -0.001, 0.001],
    ['C', -0.0025, 0.0025],
    ['D', -0.005, 0.005],
    ['F', -0.01, 0.01],
    ['G', -0.02, 0.02],
    ['H', -0.03, 0.03],
    ['J', -0.05, 0.05],
    ['K', -0.1, 0.1],
    ['M', -0.2, 0.2],
    ['N', -0.3, 0.3],
    ['Q', -0.1, 0.3],
    ['T', -0.1, 0.5],
    ['S', -0.2, 0.5],
    ['Z', -0.2, 0.8],
  ])('%s is %d to %d', (letter, low, high) => {
    expect(toleranceLetter(letter)).toEqual({ low, high });
  });

  test.each(['', 'j', 'X', 'JJ', ' J', 'constructor', '__proto__'])('%j is no letter', (text) => {
    expect(toleranceLetter(text)).toBeUndefined();
  });
});

describe('readTolerance', () => {
  test.each<[unknown, number]>([
    ['5 %', 0.05],
    ['5%', 0.05],
    ['±5 %', 0.05],
    ['± 5 %', 0.05],
    ['0.5 %', 0.005],
    ['0.05', 0.05],
    [0.05, 0.05],
    [0, 0],
    ['0 %', 0],
    ['J', 0.05],
    [' K ', 0.1],
    ['M', 0.2],
    ['99.9 %', 0.999],
  ])('(%j) is %d', (input, value) => {
    expect(readTolerance(input)).toEqual({ ok: true, value });
  });

  test.each<[unknown, string]>([
    ['12 apples', 'must be a tolerance; got "12 apples". Write for example 5 %, 0.05 or J.'],
    ['5 V', 'must be a tolerance; got "5 V".'],
    ['j', 'must be a tolerance; got "j".'],
    ['±', 'must be a tolerance; got "±".'],
    ['', 'must be a tolerance; got an empty text.'],
    [undefined, 'must be a tolerance; got nothing.'],
    [NaN, 'must be a tolerance; got not a number (NaN).'],
    ['x'.repeat(100), `must be a tolerance; got "${'x'.repeat(40)}"...`],
    [5, 'must be at least 0 and below 100\u202f%; got 5, which is 500\u202f%.'],
    ['100 %', 'must be at least 0 and below 100\u202f%; got "100 %", which is 100\u202f%.'],
    ['-5 %', 'got "-5 %", which is −5\u202f%.'],
    ['Z', 'must be the same both ways; got "Z", which is −20\u202f% to +80\u202f%. Write'],
  ])('refuses case %#: %j', (input, message) => {
    const result = readTolerance(input);
    if (result.ok) throw new Error(`was read as ${result.value}`);
    expect(result.message).toContain(message);
  });
});
