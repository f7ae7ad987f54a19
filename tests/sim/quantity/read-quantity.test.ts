import { parseQuantity, QuantityError, readQuantity, type Unit } from '#sim/quantity/index.ts';
import { describe, expect, test } from 'vitest';

// Values are compared exactly: a text gives the double nearest to its decimal value. Prefixes, units
// and letters are those of the SI Brochure (9th edition 2019) and IEC 60062:2016 (at second hand).

const accepted: readonly (readonly [unknown, Unit, number])[] = [
  // numbers are taken as they are
  [68000, 'Ω', 68000],
  [0, 'V', 0],
  [-12, 'V', -12],
  [5e-324, 's', 5e-324],
  // value, prefix, unit
  ['68 kΩ', 'Ω', 68000],
  ['68kΩ', 'Ω', 68000],
  ['68 kohm', 'Ω', 68000],
  ['68kohm', 'Ω', 68000],
  ['10 ohms', 'Ω', 10],
  ['10 Ohm', 'Ω', 10],
  ['68 k\u2126', 'Ω', 68000], // ohm sign
  ['68 k\u03a9', 'Ω', 68000], // Greek capital omega
  ['4.7 MΩ', 'Ω', 4700000],
  ['4.7 mΩ', 'Ω', 0.0047],
  ['1 GΩ', 'Ω', 1e9],
  ['2 TΩ', 'Ω', 2e12],
  ['4.7 µF', 'F', 4.7e-6], // micro sign
  ['4.7 \u03bcF', 'F', 4.7e-6], // Greek mu
  ['4.7 uF', 'F', 4.7e-6],
  ['0.1 uF', 'F', 1e-7],
  ['100 nF', 'F', 1e-7],
  ['2.2 nF', 'F', 2.2e-9],
  ['12 pF', 'F', 1.2e-11],
  ['3 fF', 'F', 3e-15],
  ['1 mF', 'F', 0.001],
  ['0.47 F', 'F', 0.47],
  ['351 ms', 's', 0.351],
  ['6 s', 's', 6],
  ['3 ks', 's', 3000],
  ['50 Hz', 'Hz', 50],
  ['1.44 MHz', 'Hz', 1440000],
  ['1 mHz', 'Hz', 0.001],
  ['20 mA', 'A', 0.02],
  ['250 nA', 'A', 2.5e-7],
  ['0.25 W', 'W', 0.25],
  ['250 mW', 'W', 0.25],
  ['47 µH', 'H', 4.7e-5],
  ['2 H', 'H', 2],
  ['10 nC', 'C', 1e-8],
  ['5 mJ', 'J', 0.005],
  ['1.5 rad', 'rad', 1.5],
  ['250 mrad', 'rad', 0.25],
  // signs, points, exponents
  ['-5 V', 'V', -5],
  ['\u22125 V', 'V', -5], // minus sign
  ['+5 V', 'V', 5],
  ['.5 V', 'V', 0.5],
  ['5. V', 'V', 5],
  ['4.7e-6 F', 'F', 4.7e-6],
  ['4.7E-6F', 'F', 4.7e-6],
  ['4.7e\u22126 F', 'F', 4.7e-6],
  ['4.7e-3 mF', 'F', 4.7e-6],
  ['6.8e+4 Ω', 'Ω', 68000],
  ['0 V', 'V', 0],
  ['-0 V', 'V', 0],
  ['0e999 V', 'V', 0],
  // the value alone is in the SI unit
  ['68000', 'Ω', 68000],
  ['1e-7', 'F', 1e-7],
  ['-0.5', 'V', -0.5],
  // space
  ['  5 V  ', 'V', 5],
  ['5\u00a0V', 'V', 5],
  ['5\u202fV', 'V', 5],
  ['5\u202fV', 'V', 5],
  ['5\tV', 'V', 5],
  // letter codes
  ['4K7', 'Ω', 4700],
  ['4k7', 'Ω', 4700],
  ['47K', 'Ω', 47000],
  ['47K3', 'Ω', 47300],
  ['R47', 'Ω', 0.47],
  ['4R7', 'Ω', 4.7],
  ['470R', 'Ω', 470],
  ['0R', 'Ω', 0],
  ['4M7', 'Ω', 4700000],
  ['10M', 'Ω', 1e7],
  ['1G0', 'Ω', 1e9],
  ['4L7', 'Ω', 0.0047],
  [' 4K7 ', 'Ω', 4700],
  ['100n', 'F', 1e-7],
  ['4p7', 'F', 4.7e-12],
  ['p47', 'F', 4.7e-13],
  ['2µ2', 'F', 2.2e-6],
  ['2\u03bc2', 'F', 2.2e-6],
  ['2u2', 'F', 2.2e-6],
  ['1m0', 'F', 0.001],
  ['4F7', 'F', 4.7],
  // shares
  ['5 %', 'share', 0.05],
  ['5%', 'share', 0.05],
  ['0.05', 'share', 0.05],
  [0.05, 'share', 0.05],
  ['41.0 %', 'share', 0.41],
  ['100 %', 'share', 1],
  ['-20 %', 'share', -0.2],
  // double rounding: the product value * 1e-9 would miss these
  ['2.2e3 nF', 'F', 2.2e-6],
  ['0.3 ms', 's', 3e-4],
  ['1.1 µs', 's', 1.1e-6],
  ['9007199254740993 V', 'V', 9007199254740992],
];

const refused: readonly (readonly [unknown, Unit, string])[] = [
  // nothing of the kind
  ['12 apples', 'Ω', 'must be a resistance; got "12 apples". Write for example 68 kΩ or 4K7.'],
  ['', 'V', 'must be a voltage; got an empty text. Write for example 5 V or 350 mV.'],
  ['   ', 'V', 'got an empty text.'],
  ['V', 'V', 'got "V".'],
  ['five volts', 'V', 'got "five volts".'],
  ['.', 'V', 'got ".".'],
  ['-', 'V', 'got "-".'],
  ['5 V 3', 'V', 'got "5 V 3".'],
  ['5 6 V', 'V', 'got "5 6 V".'],
  ['1 000 Ω', 'Ω', 'got "1 000 Ω".'],
  ['1_000 Ω', 'Ω', 'got "1_000 Ω".'],
  ['5..1 V', 'V', 'got "5..1 V".'],
  ['0x10', 'Ω', 'got "0x10".'],
  ['--5 V', 'V', 'got "--5 V".'],
  ['5e V', 'V', 'got "5e V".'],
  ['5 k V', 'V', 'got "5 k V".'],
  ['5 hV', 'V', 'got "5 hV".'],
  ['5 kkΩ', 'Ω', 'got "5 kkΩ".'],
  ['5 µµF', 'F', 'got "5 µµF".'],
  ['٥ V', 'V', 'got "٥ V".'],
  ['5 V\u0000', 'V', 'got "5 V\\u0000".'],
  ['5 min', 's', 'got "5 min".'],
  ['90°', 'rad', 'must be an angle; got "90°". Write for example 1.5 rad or 250 mrad.'],
  ['5 m%', 'share', 'got "5 m%".'],
  // wrong unit
  ['5 V', 'Ω', 'must be a resistance; got "5 V", a voltage. Write for example 68 kΩ or 4K7.'],
  ['68 kΩ', 'F', 'must be a capacitance; got "68 kΩ", a resistance. Write for example 4.7 µF or 100n.'],
  ['68 kohm', 'V', 'got "68 kohm", a resistance.'],
  ['20 mA', 'V', 'got "20 mA", a current.'],
  ['100 nF', 's', 'must be a time; got "100 nF", a capacitance. Write for example 2 s or 150 ms.'],
  ['2 s', 'Hz', 'must be a frequency; got "2 s", a time. Write for example 50 Hz or 1.2 kHz.'],
  ['50 Hz', 's', 'got "50 Hz", a frequency.'],
  ['50 Hz', 'H', 'must be an inductance; got "50 Hz", a frequency. Write for example 100 mH or 47 µH.'],
  ['5 mH', 'Hz', 'got "5 mH", an inductance.'],
  ['1 W', 'J', 'must be an energy; got "1 W", a power. Write for example 2 J or 5 mJ.'],
  ['1 J', 'C', 'must be a charge; got "1 J", an energy. Write for example 10 nC or 4.7 µC.'],
  ['1 nC', 'A', 'must be a current; got "1 nC", a charge. Write for example 20 mA or 500 nA.'],
  ['2 rad', 'W', 'must be a power; got "2 rad", an angle. Write for example 0.25 W or 250 mW.'],
  ['5 %', 'Ω', 'got "5 %", a share.'],
  ['5 V', 'share', 'must be a share; got "5 V", a voltage. Write for example 0.05 or 5 %.'],
  ['100n', 'Ω', 'got "100n", the code of a capacitance.'],
  ['4K7', 'F', 'got "4K7", the code of a resistance.'],
  ['4K7', 'V', 'got "4K7", the code of a resistance.'],
  // codes that are none
  ['R', 'Ω', 'got "R".'],
  ['4K7K', 'Ω', 'got "4K7K".'],
  ['4K7J', 'Ω', 'got "4K7J".'],
  ['4 K7', 'Ω', 'got "4 K7".'],
  ['-4K7', 'Ω', 'got "-4K7". Leave out the minus sign. Write 4.7 kΩ or 4K7.'],
  ['4.7K', 'Ω', 'got "4.7K". The unit is missing. Write 4.7 kΩ or 4K7.'],
  ['4T7', 'Ω', 'got "4T7".'],
  ['4m7', 'Ω', 'got "4m7", the code of a capacitance. Capital and small letters count: k is kilo, m milli, M mega.'],
  ['10E', 'Ω', 'got "10E".'],
  // slips
  ['4,7 kΩ', 'Ω', 'got "4,7 kΩ". Decimals take a point, not a comma. Write 4.7 kΩ or 4K7.'],
  ['-0,5 V', 'V', 'Decimals take a point, not a comma. Write -500 mV.'],
  ['68 KΩ', 'Ω', 'got "68 KΩ". Capital and small letters count: k is kilo, m milli, M mega. Write 68 kΩ or 68K.'],
  ['100 nf', 'F', 'Capital and small letters count: k is kilo, m milli, M mega. Write 100 nF or 100n.'],
  ['10f', 'F', 'M mega. Write 10 F or 10F.'],
  ['100N', 'F', 'M mega. Write 100 nF or 100n.'],
  ['4r7', 'Ω', 'M mega. Write 4.7 Ω or 4R7.'],
  ['50 hz', 'Hz', 'M mega. Write 50 Hz.'],
  ['5 v', 'V', 'M mega. Write 5 V.'],
  ['350 mv', 'V', 'M mega. Write 350 mV.'],
  ['5 S', 's', 'M mega. Write 5 s.'],
  ['5 KV', 'V', 'M mega. Write 5 kV.'],
  ['5 k', 'V', 'got "5 k". The unit is missing. Write 5 kV.'],
  ['-5k', 'V', 'The unit is missing. Write -5 kV.'],
  ['4.7k', 'Ω', 'must be a resistance; got "4.7k". The unit is missing. Write 4.7 kΩ or 4K7.'],
  ['68 k', 'Ω', 'The unit is missing. Write 68 kΩ or 68K.'],
  ['100 k', 'Ω', 'got "100 k". The unit is missing. Write 100 kΩ or 100K.'],
  ['-5k', 'Ω', 'got "-5k". Leave out the minus sign. Write 5 kΩ or 5K0.'],
  ['2.2M', 'Ω', 'The unit is missing. Write 2.2 MΩ or 2M2.'],
  ['4.7R', 'Ω', 'The unit is missing. Write 4.7 Ω or 4R7.'],
  ['4,7k', 'Ω', 'Decimals take a point, not a comma. The unit is missing. Write 4.7 kΩ or 4K7.'],
  ['4.7u', 'F', 'The unit is missing. Write 4.7 µF or 4µ7.'],
  ['0.1 µ', 'F', 'The unit is missing. Write 100 nF or 100n.'],
  // what was meant cannot be told: thousands or decimals, milli or mega, milli or minutes
  ['1,000 Ω', 'Ω', 'Decimals take a point, not a comma. Write for example 68 kΩ or 4K7.'],
  ['4.7m', 'Ω', 'Capital and small letters count: k is kilo, m milli, M mega. Write for example 68 kΩ or 4K7.'],
  ['4.7 Mf', 'F', 'M mega. Write for example 4.7 µF or 100n.'],
  ['50 mhz', 'Hz', 'Capital and small letters count: k is kilo, m milli, M mega. Write for example 50 Hz or 1.2 kHz.'],
  ['5 m', 's', 'The unit is missing. Write for example 2 s or 150 ms.'],
  // beyond a double
  ['1e999 V', 'V', 'must be a voltage; got "1e999 V", too large to compute with.'],
  ['-1e300 TΩ', 'Ω', 'got "-1e300 TΩ", too large to compute with.'],
  [`1e${'9'.repeat(40)} V`, 'V', 'too large to compute with.'],
  ['1e-400 s', 's', 'got "1e-400 s", too small to compute with.'],
  [`1e-${'9'.repeat(40)} s`, 's', 'too small to compute with.'],
  ['Infinity', 'V', 'got "Infinity".'],
  ['NaN', 'V', 'got "NaN".'],
  [Infinity, 'V', 'got infinity.'],
  [-Infinity, 'V', 'got minus infinity.'],
  [NaN, 'V', 'got not a number (NaN).'],
  ['1'.repeat(65), 'V', 'got a text of 65 characters. A quantity has at most 64.'],
  ['1'.repeat(1e6), 'Ω', 'got a text of 1000000 characters.'],
  // other things
  [undefined, 'V', 'got nothing.'],
  [null, 'V', 'got null.'],
  [true, 'V', 'got true.'],
  [[5], 'V', 'got a list or an object.'],
  [{ value: 5 }, 'V', 'got a list or an object.'],
  [5n, 'V', 'got the big integer 5.'],
  [Symbol('5 V'), 'V', 'got a symbol.'],
  [() => 5, 'V', 'got a function.'],
];

describe('readQuantity', () => {
  test.each(accepted)('(%j, %s) is %d', (input, unit, value) => {
    const result = readQuantity(input, unit);
    expect(result).toEqual({ ok: true, value });
  });

  test.each(refused.map(([input, unit, message], index) => ({ input, unit, message, index })))(
    'refuses row $index as $unit: $message',
    ({ input, unit, message }) => {
      const result = readQuantity(input, unit);
      if (result.ok) throw new Error(`was read as ${result.value}`);
      expect(result.message).toContain(message);
    },
  );

  test('every refusal follows the grammar and ends with texts that are read', () => {
    for (const [input, unit] of refused) {
      const result = readQuantity(input, unit);
      if (result.ok) throw new Error(`was read as ${result.value}`);
      const [, texts = ''] =
        /^must be an? [a-z]+; got .+\. (?:.+\. )?Write (?:for example )?(.+)\.$/.exec(result.message) ?? [];
      const values = texts.split(' or ').map((text) => readQuantity(text, unit));
      expect(values, result.message).toEqual(values.map(() => ({ ok: true, value: expect.any(Number) as number })));
      // Two ways to write what was meant are the same value.
      const meant = !result.message.includes('for example');
      if (meant) expect(new Set(values.map((value) => value.ok && value.value)).size, result.message).toBe(1);
    }
  });

  test('a text of 64 characters is still read', () => {
    expect(readQuantity(`1.${'0'.repeat(60)} V`, 'V')).toEqual({ ok: true, value: 1 });
  });

  test('-0 as a number and as text becomes 0', () => {
    for (const input of [-0, '-0 V', '-0']) {
      const result = readQuantity(input, 'V');
      expect(result.ok && Object.is(result.value, 0)).toBe(true);
    }
  });
});

describe('parseQuantity', () => {
  test('returns the value', () => {
    expect(parseQuantity('68 kΩ', 'Ω')).toBe(68000);
    expect(parseQuantity(12, 'V')).toBe(12);
  });

  test('throws a QuantityError with the message of readQuantity and the unit', () => {
    const result = readQuantity('5 V', 'Ω');
    const thrown = (() => {
      try {
        return parseQuantity('5 V', 'Ω');
      } catch (error) {
        return error;
      }
    })();
    expect(thrown).toBeInstanceOf(QuantityError);
    expect(thrown).toMatchObject({ name: 'QuantityError', unit: 'Ω', message: result.ok ? '' : result.message });
  });
});
