/**
 * SI unit of a quantity: volt, ampere, ohm, farad, second, hertz, watt, henry, coulomb, joule,
 * radian; `share` is a plain number, 0 to 1 as a rule, which may also be written in per cent.
 */
export type Unit = 'V' | 'A' | 'Ω' | 'F' | 's' | 'Hz' | 'W' | 'H' | 'C' | 'J' | 'rad' | 'share';

/** How a unit is written, read and spoken of. */
export interface UnitWriting {
  /** What is measured, with its article, as in "must be a resistance". */
  readonly kind: string;
  /** Symbol as written after the value. */
  readonly symbol: string;
  /** Every spelling that is read, capital and small letters told apart. */
  readonly spellings: readonly string[];
  /** Two texts that can be read, to show in messages. */
  readonly examples: readonly [string, string];
  /** Power of ten that one written unit stands for: 0, but -2 for per cent. */
  readonly exponent: number;
  /**
   * Which SI prefixes are written: `all`; `small` where people do not say kilo (they say 3600 s,
   * not 3.6 ks); `none` for per cent.
   */
  readonly prefixes: 'all' | 'small' | 'none';
}

/**
 * Every unit. Symbols as in the SI Brochure (BIPM, 9th edition 2019, tables 2 and 4).
 *
 * The ohm sign is read as U+03A9 (Greek capital omega, the one written) and as U+2126 (ohm sign).
 */
export const unitWriting: Readonly<Record<Unit, UnitWriting>> = {
  V: written('a voltage', 'V', ['5 V', '350 mV']),
  A: written('a current', 'A', ['20 mA', '500 nA']),
  Ω: {
    ...written('a resistance', 'Ω', ['68 kΩ', '4K7']),
    spellings: ['\u03a9', '\u2126', 'ohm', 'ohms', 'Ohm', 'Ohms'],
  },
  F: written('a capacitance', 'F', ['4.7 µF', '100n']),
  s: { ...written('a time', 's', ['2 s', '150 ms']), prefixes: 'small' },
  Hz: written('a frequency', 'Hz', ['50 Hz', '1.2 kHz']),
  W: written('a power', 'W', ['0.25 W', '250 mW']),
  H: written('an inductance', 'H', ['100 mH', '47 µH']),
  C: written('a charge', 'C', ['10 nC', '4.7 µC']),
  J: written('an energy', 'J', ['2 J', '5 mJ']),
  rad: { ...written('an angle', 'rad', ['1.5 rad', '250 mrad']), prefixes: 'small' },
  share: { ...written('a share', '%', ['0.05', '5 %']), exponent: -2, prefixes: 'none' },
};

/** Every unit, in the order of the type. */
export const units = Object.keys(unitWriting) as readonly Unit[];

function written(kind: string, symbol: string, examples: readonly [string, string]): UnitWriting {
  return { kind, symbol, spellings: [symbol], examples, exponent: 0, prefixes: 'all' };
}
