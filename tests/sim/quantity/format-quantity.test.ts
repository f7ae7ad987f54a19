import { type FormatOptions, formatQuantity, readQuantity, type Unit } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';

/** Writes the thin space of the expected texts as an ordinary one, to be readable here. */
function shown(value: number, unit: Unit, options?: FormatOptions): string {
  return formatQuantity(value, unit, options).replace('\u202f', ' ');
}

describe('formatQuantity', () => {
  test.each<[number, Unit, string]>([
    [68000, 'Ω', '68.0 kΩ'],
    [0.351, 's', '351 ms'],
    [4.7e-6, 'F', '4.70 µF'],
    [0.35, 's', '350 ms'],
    [5, 'V', '5.00 V'],
    [-5, 'V', '−5.00 V'],
    [-0.0123, 'A', '−12.3 mA'],
    [1, 'Hz', '1.00 Hz'],
    [1000, 'Hz', '1.00 kHz'],
    [1.44e6, 'Hz', '1.44 MHz'],
    [2e9, 'Ω', '2.00 GΩ'],
    [3.3e12, 'Ω', '3.30 TΩ'],
    [1e-15, 'F', '1.00 fF'],
    [1.5e-12, 'F', '1.50 pF'],
    [2.2e-9, 'F', '2.20 nF'],
    [0.25, 'W', '250 mW'],
    [0.1, 'H', '100 mH'],
    [1e-8, 'C', '10.0 nC'],
    [0.005, 'J', '5.00 mJ'],
    [1.5707963, 'rad', '1.57 rad'],
    [0.25, 'rad', '250 mrad'],
    // rounding into the next prefix
    [999.4, 'V', '999 V'],
    [999.5, 'V', '1.00 kV'],
    [999.96, 'V', '1.00 kV'],
    [0.9996, 's', '1.00 s'],
    [9.995e-7, 'A', '999 nA'], // the double lies below the half
    [9.996e-7, 'A', '1.00 µA'],
    // halves that doubles hold exactly go away from zero
    [0.125, 'V', '125 mV'],
    [2.125, 'V', '2.13 V'],
    [-2.125, 'V', '−2.13 V'],
    // the double 1.005 lies below the half
    [1.005, 'V', '1.00 V'],
    // times and angles above one stay whole
    [3600, 's', '3600 s'],
    [12345.6, 's', '12346 s'],
    [999.6, 's', '1000 s'],
    [22, 's', '22.0 s'],
    [270.3, 's', '270 s'],
    [6283.2, 'rad', '6283 rad'],
    // shares in per cent
    [0.41, 'share', '41.0 %'],
    [1, 'share', '100 %'],
    [0.05, 'share', '5.00 %'],
    [0, 'share', '0 %'],
    [-0.2, 'share', '−20.0 %'],
    [0.00012, 'share', '0.0120 %'],
    [12.344, 'share', '1234 %'],
    [1e-6, 'share', '0.000100 %'],
    [1e-7, 'share', '1.00e-5 %'],
    // beyond the prefixes
    [1.602e-19, 'C', '1.60e-19 C'],
    [1e15, 'Ω', '1.00e15 Ω'],
    [5e-324, 'V', '4.94e-324 V'],
    [1.7e308, 'V', '1.70e308 V'],
    [1e15, 's', '1.00e15 s'],
    [1e-16, 's', '1.00e-16 s'],
    // nothing to write
    [0, 'V', '0 V'],
    [-0, 'V', '0 V'],
    [NaN, 'V', 'no value'],
    [Infinity, 'Ω', '∞ Ω'],
    [-Infinity, 'V', '−∞ V'],
  ])('(%d, %s) is %s', (value, unit, text) => {
    expect(shown(value, unit)).toBe(text);
  });

  test.each<[number, Unit, FormatOptions, string]>([
    [0.35149, 's', { digits: 4 }, '351.5 ms'],
    [0.35149, 's', { digits: 2 }, '350 ms'],
    [0.35149, 's', { digits: 1 }, '400 ms'],
    [0.95, 's', { digits: 1 }, '900 ms'], // the double 0.95 lies below the half
    [0.96, 's', { digits: 1 }, '1 s'],
    [5, 'V', { digits: 1 }, '5 V'],
    [0.1, 'V', { digits: 17 }, '100.00000000000001 mV'], // 0.1 is 0.1000000000000000055...
    [68000, 'Ω', { exact: true }, '68 kΩ'],
    [4.7e-6, 'F', { exact: true }, '4.7 µF'],
    [1e-7, 'F', { exact: true }, '100 nF'],
    [0.1 + 0.2, 'V', { exact: true }, '300.00000000000004 mV'],
    [0.35, 's', { exact: true }, '350 ms'],
    [3600.5, 's', { exact: true }, '3600.5 s'],
    [12000, 's', { exact: true }, '12000 s'],
    [0.41, 'share', { exact: true }, '41 %'],
    [0.0125, 'share', { exact: true }, '1.25 %'],
    [1e-19, 'C', { exact: true }, '1e-19 C'],
    [1.6e-19, 'C', { exact: true }, '1.6e-19 C'],
    [0, 'V', { exact: true }, '0 V'],
    [5, 'V', { exact: true, digits: 1 }, '5 V'],
    [5, 'V', { exact: false }, '5.00 V'],
  ])('(%d, %s, %j) is %s', (value, unit, options, text) => {
    expect(shown(value, unit, options)).toBe(text);
  });

  test('joins value and unit by a thin space, micro sign and Greek omega', () => {
    expect(formatQuantity(4.7e-6, 'F', { exact: true })).toBe('4.7\u202f\u00b5F');
    expect(formatQuantity(4.7, 'Ω', { exact: true })).toBe('4.7\u202f\u03a9');
  });

  test('what it writes for people is read again', () => {
    expect(readQuantity(formatQuantity(1.602e-19, 'C'), 'C')).toEqual({ ok: true, value: 1.6e-19 });
    expect(readQuantity(formatQuantity(0.41, 'share'), 'share')).toEqual({ ok: true, value: 0.41 });
    expect(readQuantity(formatQuantity(-0.0123, 'A'), 'A')).toEqual({ ok: true, value: -0.0123 });
    expect(readQuantity(formatQuantity(-1.6e-19, 'C', { exact: true }), 'C')).toEqual({ ok: true, value: -1.6e-19 });
  });

  test('no value and infinity are refused when read', () => {
    expect(readQuantity(formatQuantity(NaN, 'V'), 'V').ok).toBe(false);
    expect(readQuantity(formatQuantity(Infinity, 'V'), 'V').ok).toBe(false);
  });

  test.each([0, -1, 1.5, 18, NaN, Infinity])('digits of %d are refused', (digits) => {
    expect(() => formatQuantity(5, 'V', { digits })).toThrow(RangeError);
    expect(() => formatQuantity(5, 'V', { digits })).toThrow(
      `formatQuantity: digits must be a whole number from 1 to 17; got ${digits}.`,
    );
  });
});
