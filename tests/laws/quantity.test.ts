import {
  formatLetterCode,
  formatQuantity,
  nearestPreferred,
  preferredBetween,
  preferredMantissas,
  readLetterCode,
  readQuantity,
  readTolerance,
  seriesNames,
  stepPreferred,
  type Unit,
} from '#sim/quantity/index.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const units: Unit[] = ['V', 'A', 'Ω', 'F', 's', 'Hz', 'W', 'H', 'C', 'J', 'rad', 'share'];
const unit = fc.constantFrom(...units);
const series = fc.constantFrom(...seriesNames);

/** 1 to 10: of few digits, as people write them, or of as many as a double holds, as computed. */
const factor = fc.oneof(
  fc.integer({ min: 1000, max: 9999 }).map((digits) => digits / 1000),
  fc.double({ min: 1, max: 10, noNaN: true }),
);

/** Doubles of every size people meet, evenly over the powers of ten, of either sign. */
const quantity = fc
  .tuple(fc.integer({ min: -15, max: 11 }), factor, fc.boolean())
  .map(([power, size, negative]) => (negative ? -1 : 1) * Number(`${size}e${power}`));

/** Every finite double. */
const anyNumber = fc.double({ noNaN: true, noDefaultInfinity: true });

/** A positive value well inside the range of the preferred numbers. */
const positive = quantity.map(Math.abs);

/** A double as a fraction of whole numbers, exactly. */
function fraction(value: number): [bigint, bigint] {
  let numerator = value;
  let power = 0n;
  while (!Number.isInteger(numerator)) {
    numerator *= 2;
    power += 1n;
  }
  return [BigInt(numerator), 2n ** power];
}

/** Decimal text, with an exponent or not, as a fraction of whole numbers, exactly; and its last digit's place. */
function decimalFraction(text: string): { value: [bigint, bigint]; lastPlace: [bigint, bigint] } {
  const [mantissa = '', exponent = '0'] = text.split('e');
  const [whole = '', rest = ''] = mantissa.split('.');
  const power = BigInt(exponent) - BigInt(rest.length);
  const scale: [bigint, bigint] = power >= 0n ? [10n ** power, 1n] : [1n, 10n ** -power];
  return { value: [BigInt(whole + rest) * scale[0], scale[1]], lastPlace: scale };
}

const prefixPowers: Record<string, number> = { f: -15, p: -12, n: -9, µ: -6, m: -3, k: 3, M: 6, G: 9, T: 12 };

/** Takes a written quantity apart again, by means of its own. */
function takenApart(text: string, of: Unit): { number: string; power: number } {
  const [number = '', tail = ''] = text.split('\u202f');
  if (of === 'share') return { number, power: -2 };
  const prefix = tail.slice(0, tail.length - of.length);
  return { number, power: prefix === '' ? 0 : (prefixPowers[prefix] ?? NaN) };
}

describe('readQuantity', () => {
  test('reads back the same double from the exact text, for quantities of the usual sizes', () => {
    fc.assert(
      fc.property(quantity, unit, (value, of) => {
        expect(readQuantity(formatQuantity(value, of, { exact: true }), of)).toEqual({ ok: true, value });
      }),
    );
  });

  test('reads back the same double from the exact text, for every finite double', () => {
    fc.assert(
      fc.property(anyNumber, unit, (value, of) => {
        const result = readQuantity(formatQuantity(value, of, { exact: true }), of);
        expect(result).toEqual({ ok: true, value: value === 0 ? 0 : value });
      }),
    );
  });

  test('gives the double nearest to the decimal value, whatever the prefix', () => {
    const prefixes = Object.entries({ ...prefixPowers, '': 0, u: -6 });
    fc.assert(
      fc.property(
        fc.nat({ max: 999_999 }),
        fc.nat({ max: 999 }),
        fc.constantFrom(...prefixes),
        (whole, rest, [prefix, power]) => {
          // The engine's own parser is the judge: it is exact for decimal text by its standard.
          const value = Number(`${whole}.${rest}e${power}`);
          expect(readQuantity(`${whole}.${rest} ${prefix}V`, 'V')).toEqual({ ok: true, value });
        },
      ),
    );
  });

  test('never throws; a refusal is one line that says what must be and what was found', () => {
    const anything = fc.oneof(fc.anything(), fc.string({ unit: 'binary' }), nearlyQuantity());
    fc.assert(
      fc.property(anything, unit, (input, of) => {
        for (const result of [readQuantity(input, of), readTolerance(input)]) {
          if (result.ok) {
            expect(Number.isFinite(result.value)).toBe(true);
            continue;
          }
          expect(result.message).toMatch(/^must be .+; got .+\. .*Write .+\.$/);
          expect(result.message.length).toBeLessThan(400);
          // What is proposed in place of a nearly right input can be used as it stands.
          const proposed = /.*Write (?!for example )(.+)\.$/.exec(result.message)?.[1];
          for (const text of proposed?.split(' or ') ?? [])
            expect(readQuantity(text, of), text).toMatchObject({ ok: true });
        }
      }),
    );
  });
});

/** Texts of the right letters in the wrong order. */
function nearlyQuantity(): fc.Arbitrary<string> {
  const piece = fc.constantFrom(...'0123456789.,+-eE kKMmµuRnpFΩVs%±'.split(''), 'ohm', 'Hz', '\u202f', '\u2212');
  return fc.array(piece, { maxLength: 8 }).map((pieces) => pieces.join(''));
}

describe('formatQuantity', () => {
  test('is never more than half a unit of the last digit off, and shows at least the digits asked for', () => {
    fc.assert(
      fc.property(quantity, unit, fc.integer({ min: 1, max: 17 }), (value, of, digits) => {
        const { number, power } = takenApart(formatQuantity(Math.abs(value), of, { digits }), of);
        const [mantissa = '', exponent = '0'] = number.split('e');
        // Zeros before the point that only keep places are no digits: the last digit is the digits-th.
        const shown = mantissa.replace('.', '').replace(/^0+/, '');
        expect(shown.length).toBeGreaterThanOrEqual(digits);
        const full = `${mantissa}e${Number(exponent) + power}`;
        const { value: written, lastPlace } = decimalFraction(full);
        const keepsEveryWhole = of === 'share' || ((of === 's' || of === 'rad') && power === 0);
        const padding = mantissa.includes('.') || keepsEveryWhole ? 0 : shown.length - digits;
        const step: [bigint, bigint] = [lastPlace[0] * 10n ** BigInt(padding), lastPlace[1]];
        const exact = fraction(Math.abs(value));
        // |written - exact| <= step / 2 in whole numbers, no rounding.
        const off = written[0] * exact[1] - exact[0] * written[1];
        const left = 2n * (off < 0n ? -off : off) * step[1];
        expect(left <= step[0] * written[1] * exact[1]).toBe(true);
      }),
    );
  });

  test('leaves 1 to 999 before a prefix', () => {
    fc.assert(
      fc.property(quantity, fc.constantFrom<Unit>('V', 'A', 'Ω', 'F', 'Hz'), (value, of) => {
        expect(formatQuantity(Math.abs(value), of)).toMatch(/^[1-9](\.\d\d|\d\.\d|\d\d)\u202f[fpnµmkMGT]?[A-ZΩ]z?$/);
      }),
    );
  });

  test('writes a negative value as the positive one with a minus sign', () => {
    fc.assert(
      fc.property(positive, unit, fc.boolean(), (value, of, exact) => {
        expect(formatQuantity(-value, of, { exact })).toBe(`−${formatQuantity(value, of, { exact })}`);
      }),
    );
  });
});

describe('formatLetterCode', () => {
  test('reads back as the same double', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9999 }),
        fc.integer({ min: -15, max: 11 }),
        fc.constantFrom<'Ω' | 'F'>('Ω', 'F'),
        (mantissa, power, of) => {
          const value = Number(`${mantissa}e${power}`);
          const code = formatLetterCode(value, of);
          const [low, high] = of === 'Ω' ? [1e-3, 1e12] : [1e-15, 1e3];
          expect(code !== undefined).toBe(value >= low && value < high);
          if (code !== undefined) expect(readLetterCode(code, of)).toBe(value);
        },
      ),
    );
  });
});

/** A preferred value, with its series. */
const preferredValue = series.chain((name) =>
  fc
    .tuple(fc.constantFrom(...preferredMantissas(name)), fc.integer({ min: -15, max: 12 }))
    .map(([mantissa, power]) => ({ name, value: Number(`${mantissa}e${power}`) })),
);

describe('preferred numbers', () => {
  test('nearestPreferred of every value of every series in every usual decade is that value', () => {
    for (const name of seriesNames) {
      for (const mantissa of preferredMantissas(name)) {
        for (let power = -15; power <= 12; power++) {
          const value = Number(`${mantissa}e${power}`);
          if (nearestPreferred(value, name) !== value) expect.fail(`${value} in ${name}`);
        }
      }
    }
  });

  test('nearestPreferred has no neighbour that is nearer by ratio', () => {
    fc.assert(
      fc.property(positive, series, (value, name) => {
        const nearest = nearestPreferred(value, name);
        const distance = (other: number) => Math.abs(Math.log(other / value));
        for (const steps of [-1, 1]) {
          // 1e-12: rounding of the logarithms, which matters at the middle between two values only.
          expect(distance(stepPreferred(nearest, name, steps))).toBeGreaterThan(distance(nearest) - 1e-12);
        }
      }),
    );
  });

  test('stepPreferred up and then down returns', () => {
    fc.assert(
      fc.property(preferredValue, fc.integer({ min: -400, max: 400 }), ({ name, value }, steps) => {
        expect(stepPreferred(stepPreferred(value, name, steps), name, -steps)).toBe(value);
      }),
    );
  });

  test('stepPreferred by n is n single steps', () => {
    fc.assert(
      fc.property(positive, series, fc.integer({ min: 1, max: 30 }), fc.boolean(), (start, name, count, up) => {
        let value = start;
        for (let step = 0; step < count; step++) value = stepPreferred(value, name, up ? 1 : -1);
        expect(stepPreferred(start, name, up ? count : -count)).toBe(value);
      }),
    );
  });

  test('stepPreferred by the length of the series is a factor of ten, to the last bit of the decimal text', () => {
    fc.assert(
      fc.property(preferredValue, ({ name, value }) => {
        const [mantissa = '', power = ''] = value.toExponential().split('e');
        const tenfold = Number(`${mantissa}e${Number(power) + 1}`);
        expect(stepPreferred(value, name, preferredMantissas(name).length)).toBe(tenfold);
      }),
    );
  });

  test('preferredBetween holds exactly the values in the range, each once, ascending', () => {
    fc.assert(
      fc.property(positive, fc.double({ min: 1, max: 1000, noNaN: true }), series, (low, ratio, name) => {
        const high = low * ratio;
        const values = preferredBetween(low, high, name);
        expect(values.every((value) => value >= low && value <= high && nearestPreferred(value, name) === value)).toBe(
          true,
        );
        for (const [index, value] of values.entries()) {
          if (index > 0) expect(stepPreferred(values[index - 1] ?? NaN, name, 1)).toBe(value);
        }
        const [first, last] = [values[0], values.at(-1)];
        if (first !== undefined && last !== undefined) {
          expect(stepPreferred(first, name, -1)).toBeLessThan(low);
          expect(stepPreferred(last, name, 1)).toBeGreaterThan(high);
        } else {
          expect(stepPreferred(low, name, 1)).toBeGreaterThan(high);
        }
      }),
    );
  });
});
