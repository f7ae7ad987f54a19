import fc from 'fast-check';
import * as mathjs from 'mathjs';
import { beforeAll, expect, test } from 'vitest';
import {
  checkFormula,
  compileFormula,
  dimensionOf,
  type FormulaParser,
  loadFormulaParser,
} from '#sim/formula/index.ts';

let parse: FormulaParser;
beforeAll(async () => {
  parse = await loadFormulaParser();
});

const number = fc.double({ min: 0.01, max: 100, noNaN: true }).map((value) => String(Number(value.toPrecision(4))));
const expression = fc.letrec((again) => ({
  tree: fc.oneof(
    { depthSize: 'small' },
    number,
    fc
      .tuple(again('tree'), fc.constantFrom('+', '-', '*', '/'), again('tree'))
      .map(([a, sign, b]) => `${a as string} ${sign} ${b as string}`),
    fc
      .tuple(again('tree'), fc.constantFrom('+', '-', '*', '/'), again('tree'))
      .map(([a, sign, b]) => `(${a as string} ${sign} ${b as string})`),
    again('tree').map((a) => `-${a as string}`),
    again('tree').map((a) => `(${a as string})^2`),
    again('tree').map((a) => `abs(${a as string})`),
    fc.tuple(again('tree'), again('tree')).map(([a, b]) => `max(${a as string}, ${b as string})`),
  ),
})).tree;

function valueOf(text: string): number {
  const parsed = parse(text, () => false);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.fault.rule}; ${parsed.fault.got}`);
  return compileFormula(parsed)(new Map()).value;
}

test('an expression of numbers has the value that a general evaluator of expressions gives it', () => {
  fc.assert(
    fc.property(expression, (text) => {
      fc.pre(text.length < 1500 && (text.match(/\(/g) ?? []).length < 50);
      const reference = mathjs.evaluate(text) as number;
      const found = valueOf(text);
      // Both round every operation alike; powers may differ in the last bit, which cancellation can enlarge.
      if (Number.isFinite(reference) && Math.abs(reference) > 1e-6) expect(found / reference).toBeCloseTo(1, 6);
      else if (Number.isFinite(reference)) expect(found).toBeCloseTo(reference, 6);
      else expect(found).toBeNaN();
    }),
  );
});

const units = ['V', 'A', 'F', 's', 'Hz', 'W', 'H', 'C', 'J'] as const;

test('products and quotients of units have the dimension that a table of SI base units gives them', () => {
  const factor = fc.tuple(fc.constantFrom(...units), fc.constantFrom('*', '/'));
  fc.assert(
    fc.property(fc.constantFrom(...units), fc.array(factor, { maxLength: 5 }), (first, rest) => {
      const text = rest.reduce((so, [unit, sign]) => `${so} ${sign} 3 ${unit}`, `2 ${first}`);
      const bracketed = rest.reduce((so, [unit, sign]) => `(${so}) ${sign} (3 ${unit})`, `2 ${first}`);
      const parsed = parse(text, () => false);
      if (!parsed.ok) throw new Error(parsed.fault.got);
      const checked = checkFormula(parsed.tree, () => undefined);
      if (!checked.ok || checked.formula.dimension === undefined) throw new Error(text);
      const [volts, amperes, seconds] = checked.formula.dimension;
      const found = mathjs.evaluate(`1 V^(${volts}) * 1 A^(${amperes}) * 1 s^(${seconds})`) as mathjs.Unit;
      const reference = mathjs.evaluate(bracketed) as mathjs.Unit | number;
      const ratio = mathjs.divide(reference, found) as unknown;
      // Of the same dimension exactly when the quotient is a plain number; then it is the value in SI units.
      expect(typeof ratio).toBe('number');
      expect(compileFormula(parsed)(new Map()).value / (ratio as number)).toBeCloseTo(1, 9);
    }),
  );
});

test('a dimension is the same however its unit is written', () => {
  for (const unit of units) {
    const parsed = parse(`1 k${unit}`, () => false);
    const checked = parsed.ok ? checkFormula(parsed.tree, () => undefined) : undefined;
    expect(checked?.ok === true && checked.formula.dimension).toEqual(dimensionOf(unit));
  }
});
