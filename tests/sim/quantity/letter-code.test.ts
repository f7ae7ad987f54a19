import { formatLetterCode, type LetterCodeUnit, readLetterCode } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';

// Examples R47 to 4M7 and the letters: IEC 60062:2016, section 4, at second hand; the rest derived.

describe('readLetterCode and formatLetterCode', () => {
  test.each<[string, LetterCodeUnit, number]>([
    ['R47', 'Ω', 0.47],
    ['R047', 'Ω', 0.047],
    ['R001', 'Ω', 0.001],
    ['4R7', 'Ω', 4.7],
    ['1R0', 'Ω', 1],
    ['10R', 'Ω', 10],
    ['470R', 'Ω', 470],
    ['1K0', 'Ω', 1000],
    ['4K7', 'Ω', 4700],
    ['47K', 'Ω', 47000],
    ['47K3', 'Ω', 47300],
    ['4K755', 'Ω', 4755],
    ['470K', 'Ω', 470000],
    ['4M7', 'Ω', 4700000],
    ['10M', 'Ω', 1e7],
    ['1G0', 'Ω', 1e9],
    ['999G', 'Ω', 999e9],
    ['0R', 'Ω', 0],
    ['p47', 'F', 4.7e-13],
    ['4p7', 'F', 4.7e-12],
    ['100n', 'F', 1e-7],
    ['2µ2', 'F', 2.2e-6],
    ['1µ0', 'F', 1e-6],
    ['4µ7', 'F', 4.7e-6],
    ['2200µ', 'F', 2.2e-3],
    ['1m0', 'F', 0.001],
    ['1F0', 'F', 1],
    ['470F', 'F', 470],
  ])('%s in %s is %d and is written so (or in its shortest form)', (code, unit, value) => {
    expect(readLetterCode(code, unit)).toBe(value);
    expect(formatLetterCode(value, unit)).toBe(code === '2200µ' ? '2m2' : code);
  });

  test.each<[string, LetterCodeUnit, number]>([
    ['4k7', 'Ω', 4700],
    ['4K70', 'Ω', 4700],
    ['K47', 'Ω', 470],
    ['5L0', 'Ω', 0.005],
    ['0K0', 'Ω', 0],
    ['2u2', 'F', 2.2e-6],
    ['2\u03bc2', 'F', 2.2e-6],
    ['n47', 'F', 4.7e-10],
    ['m1', 'F', 1e-4],
  ])('%s in %s is read too, as %d', (code, unit, value) => {
    expect(readLetterCode(code, unit)).toBe(value);
  });

  test.each<[string, LetterCodeUnit]>([
    ['', 'Ω'],
    ['K', 'Ω'],
    ['47', 'Ω'],
    ['4.7K', 'Ω'],
    ['4K7 ', 'Ω'],
    ['4K7Ω', 'Ω'],
    ['4KK7', 'Ω'],
    ['4m7', 'Ω'],
    ['4T7', 'Ω'],
    ['100n', 'Ω'],
    ['4r7', 'Ω'],
    ['4K7', 'F'],
    ['100N', 'F'],
    ['100nF', 'F'],
    ['-1n', 'F'],
    ['+5', 'F'],
    ['4🚂7', 'F'],
  ])('%j in %s is no code', (text, unit) => {
    expect(readLetterCode(text, unit)).toBeUndefined();
  });

  test.each<[number, LetterCodeUnit, string]>([
    [-4700, 'Ω', 'negative'],
    [NaN, 'Ω', 'not a number'],
    [Infinity, 'Ω', 'infinite'],
    [47123, 'Ω', 'of five digits'],
    [1 / 3, 'Ω', 'of endless digits'],
    [0.00047, 'Ω', 'below 1 mΩ'],
    [1e12, 'Ω', 'of 10^12 Ω'],
    [0, 'F', 'no capacitance at all'],
    [4.7e-16, 'F', 'below 1 fF'],
    [1000, 'F', 'of 1000 F'],
  ])('%d in %s has no code, for it is %s', (value, unit) => {
    expect(formatLetterCode(value, unit)).toBeUndefined();
  });
});
