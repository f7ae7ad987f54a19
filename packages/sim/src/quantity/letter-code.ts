import { nearestDouble, plainText, toDecimal } from './decimal.ts';

/** Units that have a letter code: resistance and capacitance. */
export type LetterCodeUnit = 'Ω' | 'F';

interface LetterCode {
  /** Every letter that is read, as power of ten. */
  readonly read: ReadonlyMap<string, number>;
  /** Every letter that is written: power of ten and letter, smallest first. */
  readonly write: readonly (readonly [number, string])[];
}

/*
 * Letters of IEC 60062:2016, section 4 (at second hand): for resistance L, R, K, M, G for 10^-3 to
 * 10^9 ohms, for capacitance p, n, µ, m, F for 10^-12 to 1 farad. Read beside them: `k` for K, as
 * many people write it, and `u` and the Greek mu for µ. `m` is no letter for resistance, so that a
 * slip of the shift key cannot make 4M7 a thousand million times smaller.
 */
const letterCodes: Readonly<Record<LetterCodeUnit, LetterCode>> = {
  Ω: {
    read: new Map([
      ['L', -3],
      ['R', 0],
      ['K', 3],
      ['k', 3],
      ['M', 6],
      ['G', 9],
    ]),
    // L is left out: a value below 1 ohm is written R47 or R047.
    write: [
      [0, 'R'],
      [3, 'K'],
      [6, 'M'],
      [9, 'G'],
    ],
  },
  F: {
    read: new Map([
      ['p', -12],
      ['n', -9],
      ['\u00b5', -6],
      ['\u03bc', -6],
      ['u', -6],
      ['m', -3],
      ['F', 0],
    ]),
    write: [
      [-12, 'p'],
      [-9, 'n'],
      [-6, '\u00b5'],
      [-3, 'm'],
      [0, 'F'],
    ],
  },
};

/** Most significant digits a code is written with; the finest preferred numbers have 3. */
const MOST_DIGITS = 4;

/**
 * Reads a letter code of IEC 60062: digits with one letter in place of the decimal point, which
 * also names the power of ten (`4K7`, `R47`, `470R`, `100n`, `2µ2`).
 *
 * @returns the value in ohms or farads, the double nearest to the decimal value; `undefined` if
 * the text is no such code. There is no sign, space or unit in a code.
 */
export function readLetterCode(text: string, unit: LetterCodeUnit): number | undefined {
  const found = /^(\d*)(\D)(\d*)$/u.exec(text);
  if (found === null) return undefined;
  const [, whole = '', letter = '', rest = ''] = found;
  const exponent = letterCodes[unit].read.get(letter);
  if (exponent === undefined || whole + rest === '') return undefined;
  return nearestDouble(`${whole}.${rest}`, exponent);
}

/**
 * Writes a resistance (ohms) or capacitance (farads) as a letter code of IEC 60062: 4700 Ω is
 * `4K7`, 1 µF is `1µ0`, 0.47 Ω is `R47`, 0 Ω (a link) is `0R`.
 *
 * @returns the code, which reads back as the same double; `undefined` where the value has none:
 * negative, not finite, more than 4 significant digits, below 1 mΩ or 1 fF, 10^12 Ω and more,
 * 1000 F and more, 0 F.
 */
export function formatLetterCode(value: number, unit: LetterCodeUnit): string | undefined {
  if (value === 0) return unit === 'Ω' ? '0R' : undefined;
  if (!(value > 0 && Number.isFinite(value))) return undefined;
  const { digits, exponent } = toDecimal(value);
  if (digits.length > MOST_DIGITS) return undefined;
  const { write } = letterCodes[unit];
  const [base, letter] = write.findLast(([power]) => power <= exponent) ?? write[0] ?? [0, ''];
  const shifted = exponent - base;
  if (shifted < -3 || shifted > 2) return undefined;
  const [whole = '', rest = ''] = plainText(digits, shifted).split('.');
  if (whole === '0') return `${letter}${rest}`;
  // A lone digit keeps its place after the letter, so that 1K0 cannot be taken for a mark of another kind.
  return `${whole}${letter}${rest === '' && whole.length === 1 ? '0' : rest}`;
}
