import { beforeAll, describe, expect, test } from 'vitest';
import {
  checkFormula,
  compileFormula,
  compileNumber,
  dimensionOf,
  type FormulaParser,
  formulaWords,
  loadFormulaParser,
  unitText,
} from '#sim/formula/index.ts';
import type { Unit } from '#sim/quantity/index.ts';
import { processorTime } from '../../support/processor-time.ts';

let parse: FormulaParser;
beforeAll(async () => {
  parse = await loadFormulaParser();
});

/** Names the formulas below use: unit, and value in SI units. */
const names: Readonly<Record<string, readonly [Unit | null, number]>> = {
  'counter.R1': ['Ω', 100e3],
  'counter.C1': ['F', 4.7e-6],
  'counter.BT1': ['V', 12],
  'numbers.width': ['s', 0.516],
  'numbers.axles': [null, 40],
  rule: ['s', 0.517],
  in: [null, 7],
  V: ['s', 3],
};

function isName(word: string): boolean {
  return Object.hasOwn(names, word);
}

/** What a formula gives: its value with unit, `none: ...`, or the fault in one sentence. */
function outcome(text: string): string {
  const parsed = parse(text, isName);
  if (!parsed.ok) return sentence(parsed.fault);
  const checked = checkFormula(parsed.tree, (name) => (isName(name) ? dimensionOf(names[name]![0]) : undefined));
  if (!checked.ok) return sentence(checked.fault);
  const { formula } = checked;
  const values = new Map(Object.entries(names).map(([name, [, value]]) => [name, value]));
  const { value, reason } = compileFormula(formula)(values);
  const unit = formula.dimension === undefined ? '?' : unitText(formula.dimension);
  return reason === undefined ? `${Number(value.toPrecision(12))} ${unit}`.trim() : `none: ${reason}`;
}

function sentence({ rule, got, advice }: { rule: string; got: string; advice: string }): string {
  return `must ${rule}; got ${got}. ${advice}`;
}

describe('a formula', () => {
  // Worked out by hand; the unit by the rules of the SI.
  test.each([
    ['1.1 * counter.R1 * counter.C1', '0.517 s'],
    ['ln(3) * counter.R1 * counter.C1', '0.516347775674 s'],
    ['floor(numbers.width / 150 ms) + 1', '4'],
    ['counter.BT1 / counter.R1', '0.00012 A'],
    ['counter.BT1^2 / counter.R1', '0.00144 W'],
    ['counter.BT1 / numbers.width', '23.2558139535 V/s'],
    ['1 / numbers.width', '1.93798449612 Hz'],
    ['(numbers.width - rule) / rule', '-0.00193423597679'],
    ['max(numbers.width, rule, 300 ms)', '0.517 s'],
    ['sqrt(counter.BT1^2)', '12 V'],
    ['counter.BT1 * counter.BT1', '144 V²'],
    ['2^-2', '0.25'],
    ['2^3^2', '512'],
    ['-2^2', '-4'],
    ['1 - 2 - 3', '-4'],
    ['8 / 4 / 2', '1'],
    ['-(1 + 2) * 3', '-9'],
    ['pi', '3.14159265359'],
    ['40 * 5 %', '2'],
  ])('%s is %s', (text, expected) => {
    expect(outcome(text)).toBe(expected);
  });

  test('reads a number and its unit as one value, so that 12 / 4 s is 3 Hz', () => {
    expect(outcome('12 / 4 s')).toBe('3 Hz');
    expect(outcome('12 V / 3 kΩ')).toBe('0.004 A');
  });

  test.each(['2 µF', '2 \u03bcF', '2 uF', '2µF', '0.002 mF'])('reads micro however it is written: %s', (text) => {
    expect(outcome(text)).toBe('0.000002 F');
  });

  test.each(['3 Ω', '3 \u2126', '3 ohm', '3 * 1 Ω'])('reads the ohm however it is written: %s', (text) => {
    expect(outcome(text)).toBe('3 Ω');
  });

  test('takes names of the document before units and functions', () => {
    expect(outcome('V * 2')).toBe('6 s');
    expect(outcome('in + 1')).toBe('8');
    expect(outcome('2 V')).toBe('2 V');
    expect(outcome('A * 2')).toBe('2 A');
  });

  test('reads the signs of print: minus, point and cross', () => {
    expect(outcome('2 \u2212 3')).toBe('-1');
    expect(outcome('2 · 3 × 4')).toBe('24');
  });
});

describe('a formula whose units do not fit', () => {
  test.each([
    ['counter.R1 + counter.C1', 'got counter.R1 + counter.C1 at character 1, which adds ohms to farads.'],
    ['2 * (rule - counter.BT1)', 'got rule - counter.BT1 at character 6, which takes volts from seconds.'],
    ['rule + 1', 'which adds seconds to a plain number.'],
    ['max(rule, 3 V)', 'which compares seconds with volts.'],
    ['ln(rule)', 'which gives it seconds.'],
    ['2^rule', 'which has seconds as a power.'],
    ['rule^in', 'which has a power that is not a number.'],
    ['counter.BT1 / rule + 3 V', 'which adds V/s to volts.'],
  ])('%s: %s', (text, expected) => {
    expect(outcome(text)).toContain(expected);
    expect(outcome(text)).toMatch(/^must .+; got .+\. \S/);
  });

  test('takes a name of unknown unit to fit', () => {
    const parsed = parse('lost.width + 1 V', isName);
    expect(parsed.ok && checkFormula(parsed.tree, () => undefined).ok).toBe(true);
  });
});

describe('a formula without a value', () => {
  test.each([
    ['1 / (in - 7)', 'none: 1 / (in - 7) divides by zero'],
    ['ln(0)', 'none: ln(0) needs a number above 0'],
    ['sqrt(1 - 2)', 'none: sqrt(1 - 2) needs a number that is not negative'],
    ['(-8)^(1/2)', 'none: (-8)^(1 / 2) is a root of a negative number'],
    ['10^200 * 10^200', 'none: 10^200 * 10^200 is too large to compute with'],
    ['1 + ln(in - 8)', 'none: ln(in - 8) needs a number above 0'],
  ])('%s: %s', (text, expected) => {
    expect(outcome(text)).toBe(expected);
  });
});

describe('a text that is no formula', () => {
  test.each([
    ['', 'must hold an expression; got nothing'],
    ['   ', 'must hold an expression; got nothing'],
    ['1 +', 'must end with a value; got the end at character 4'],
    ['(1 + 2', 'must close every bracket; got the end at character 7'],
    ['1 + 2)', 'must open every bracket that it closes; got ")" at character 6'],
    ['1 + * 2', 'must have a value there; got "*" at character 5'],
    ['2 rule', 'got "rule" at character 3. Write a unit such as kΩ or µF, or 2 * rule.'],
    ['rule rule', 'must have an operator between two values; got "rule" at character 6'],
    ['2 (3)', 'must have an operator between two values; got "(" at character 3'],
    ['rule(3)', 'must have an operator between a name and a bracket; got "rule" at character 1'],
    ['log(3)', 'got "log" at character 1. Did you mean ln or log10?'],
    ['widht(out)', 'got "widht" at character 1. Readings are taken in a reading cell and used by name.'],
    ['abs + 1', 'must give every function its brackets; got abs at character 1'],
    ['min()', 'must give min 1 to 20 values; got 0 at character 1'],
    ['4k7', 'got the letter code "4k7" at character 1'],
    ['1 + 100n', 'got the letter code "100n" at character 5'],
    ['1,5', 'must have a value there; got "," at character 2'],
    ['2 ** 3', 'must write a power with ^; got "**" at character 3'],
    ['0:10', 'There are no ranges'],
    ['[1, 2]', 'Use round brackets'],
    ['rule[1]', 'Use round brackets'],
    ['a = 3', 'A formula only gives a value'],
    ['f(x) = x', 'A formula only gives a value'],
    ['rule .* 2', 'got "." at character 6'],
    ['"text"', 'There are no texts in a formula'],
    ['1; 2', 'Put every formula into a cell of its own'],
    ['3!', 'got "!" at character 2'],
    ["rule'", 'There are no texts in a formula'],
    ['1e999', 'got "1e999" at character 1, too large'],
    ['1e-999', 'got "1e-999" at character 1, too small'],
  ])('%s: %s', (text, expected) => {
    expect(outcome(text)).toContain(expected);
    expect(outcome(text)).toMatch(/^must .+; got .+\. \S/);
  });
});

/** Far more than any of these takes on a busy machine; what does not end takes for ever. */
const QUICK = 1000;

describe('a hostile text', () => {
  test.each([
    ['constructor', 'constructor'],
    ['constructor("return this")()', 'There are no texts'],
    ['__proto__', '__proto__'],
    ['x.constructor.constructor', 'x.constructor.constructor'],
    ['import(1)', 'must call only the functions'],
    ['createUnit(1)', 'must call only the functions'],
    ['evaluate(1)', 'must call only the functions'],
    ['parse(1)', 'must call only the functions'],
    ['toString(1)', 'must call only the functions'],
    ['hasOwnProperty(1)', 'must call only the functions'],
    ['zeros(9, 9)', 'must call only the functions'],
    ['factorial(170)', 'must call only the functions'],
    ['9^9^9^9^9', 'is too large to compute with'],
    ['1e308 * 1e308', 'is too large to compute with'],
    ['9'.repeat(41), 'must have numbers of at most 40 characters'],
    [`0.${'0'.repeat(60)}1`, 'must have numbers of at most 40 characters'],
    ['9'.repeat(1e6), 'must have at most 2000 characters; got 1000000'],
    ['('.repeat(10_000), 'must have at most 2000 characters; got 10000'],
    [
      `${'('.repeat(999)}1${')'.repeat(999)}`,
      'must have at most 60 brackets inside each other; got one more at character 61',
    ],
    [`${'abs('.repeat(300)}1${')'.repeat(300)}`, 'must have at most 60 brackets'],
    [`${'-'.repeat(59)}1`, '-1'],
    // Deeper than a worker of a browser can read: it has a smaller stack than Node.
    [`${'-'.repeat(1999)}1`, 'must have at most 60 signs or powers in a row; got one more at character 61'],
    [`1${'+1'.repeat(999)}`, '1000'],
    [`1${'^1'.repeat(59)}`, '1'],
    [`1${'^-1'.repeat(600)}`, 'must have at most 60 signs or powers in a row'],
    [`1${'+-1'.repeat(666)}`, '-665'],
    [`0${'+in'.repeat(600)}`, '4200'],
    ['\u0000', 'got "\\u0000" at character 1'],
    ['\u202e1', 'at character 1'],
    ['😀', 'got "😀" at character 1'],
  ])('%.30s ends at once with: %s', (text, expected) => {
    const start = processorTime();
    const found =
      text === 'constructor' || text.startsWith('_') || text.startsWith('x.') ? namesIn(text) : outcome(text);
    expect(found).toContain(expected);
    expect(processorTime() - start).toBeLessThan(QUICK);
  });

  /** Names of the language are names like any other: the document says whether they are there. */
  function namesIn(text: string): string {
    const parsed = parse(text, isName);
    if (!parsed.ok) return sentence(parsed.fault);
    const checked = checkFormula(parsed.tree, (name) => new Map<string, never>().get(name));
    return checked.ok ? checked.formula.names.join() : '';
  }

  test('never reaches what objects are born with', () => {
    const parsed = parse('constructor + __proto__ + toString', isName);
    if (!parsed.ok) throw new Error(parsed.fault.got);
    expect(compileFormula(parsed)(new Map())).toEqual({ value: NaN, reason: 'constructor has none' });
  });
});

describe('compileNumber(formula)', () => {
  test('gives the same as compileFormula, thousands of times in little time', () => {
    const parsed = parse('1.1 * counter.R1 * counter.C1 + min(rule, numbers.width)', isName);
    if (!parsed.ok) throw new Error(parsed.fault.got);
    const compute = compileNumber(parsed);
    const values = new Map(Object.entries(names).map(([name, [, value]]) => [name, value]));
    const once = compileFormula(parsed)(values).value;
    const start = processorTime();
    for (let index = 0; index < 20_000; index += 1) expect(Object.is(compute(values), once)).toBe(true);
    expect(processorTime() - start).toBeLessThan(5 * QUICK);
  });

  test('works on a tree that has been written as JSON', () => {
    const parsed = parse('2 * rule', isName);
    const copy = JSON.parse(JSON.stringify(parsed)) as typeof parsed;
    expect(copy.ok && compileNumber(copy)(new Map([['rule', 4]]))).toBe(8);
  });
});

describe('formulaWords(text)', () => {
  test('gives every word that may be a name, units behind numbers left out', () => {
    expect(formulaWords('1.1 * counter.R1 + 4 s - sin(rule) * rule')).toEqual(['counter.R1', 'sin', 'rule']);
    expect(formulaWords('?? rule [ 5 kΩ')).toEqual(['rule']);
    expect(formulaWords('x'.repeat(1e6))).toEqual([]);
  });
});
