import { loadFormulaParser } from '#sim/formula/index.ts';
import { treeText } from '#sim/formula/tree.ts';
import { type ParsedClaim, parseClaim } from '#sim/study/claim-text.ts';
import { describe, expect, test } from 'vitest';

const parser = await loadFormulaParser();
const parts = ['R1', 'R2', 'C1'];

function claimOf(text: string): ParsedClaim {
  const parsed = parseClaim(text, parser, (word) => parts.includes(word));
  if (!parsed.ok) throw new Error(`must ${parsed.fault.rule}; got ${parsed.fault.got}. ${parsed.fault.advice}`);
  return parsed.claim;
}

function refusal(text: string): string {
  const parsed = parseClaim(text, parser, (word) => parts.includes(word));
  if (parsed.ok) throw new Error('is accepted');
  return `must ${parsed.fault.rule}; got ${parsed.fault.got}. ${parsed.fault.advice}`;
}

describe('parseClaim(text)', () => {
  test('takes a claim apart into two sides, relation and tolerance', () => {
    const claim = claimOf('width(out) = 1.1 * R1 * C1 within 1 %');
    expect([...claim.readings.values()]).toEqual(['width(out)']);
    const { leftText, relation, rightText, within } = claim;
    expect([leftText, relation, rightText, within]).toEqual(['width(out)', '=', '1.1 * R1 * C1', '1 %']);
    expect(treeText(claim.right)).toBe('1.1 * R1 * C1');
    expect(claim.left).toMatchObject({ kind: 'name', name: [...claim.readings.keys()][0] });
  });

  test('reads readings inside expressions, on both sides, with limits and edge words', () => {
    const claim = claimOf('max(width(out, 3 V), 1 s) <= 2 * first(out, fall)');
    expect([...claim.readings.values()]).toEqual(['width(out, 3 V)', 'first(out, fall)']);
    expect([claim.relation, claim.within]).toEqual(['<=', null]);
  });

  test.each([
    ['duty(out) ≤ 0.5', '<='],
    ['duty(out) ≥ 0.5', '>='],
    ['duty(out)<0.5', '<'],
    ['duty(out) > 0.5', '>'],
    ['period(a)=period(b) within 5 ms', '='],
  ])('reads the relation of %s', (text, relation) => {
    expect(claimOf(text).relation).toBe(relation);
  });

  test('takes a net called within for a net', () => {
    const claim = claimOf('width(within) = 1 s within 5 %');
    expect([...claim.readings.values()]).toEqual(['width(within)']);
    expect(claim.within).toBe('5 %');
  });

  test.each([
    ['', 'must say what is compared: one of = <= >= < > between two sides; got nothing.'],
    ['width(out)', 'must say what is compared'],
    ['width(out) == 1 s', 'must compare once; got "=" at character 13 as well.'],
    ['0.4 < duty(out) < 0.6', 'must compare once; got "<" at character 17 as well.'],
    ['R1 = 1 kΩ', 'must hold a reading, such as width(out); got "R1 = 1 kΩ".'],
    ['width(out) =', 'must have something after =; got nothing at character 13.'],
    ['= width(out)', 'must have something before =; got nothing at character 1.'],
    ['width(out) = 1 s within', 'must have a tolerance behind within; got nothing.'],
    [
      'widht(out) = width(out)',
      'must call only readings and functions; got "widht" at character 1. Did you mean width?',
    ],
    ['width(out) = 1.1 R1 * C1', 'must have a unit or an operator behind a number; got "R1" at character 18.'],
    ['width(out) = (R1 * C1', 'must close every bracket; got the end at character 22.'],
    ['width(out) C1 = 1 s', 'must have an operator between two values; got "C1" at character 12.'],
    ['width(out) = 1 s & 2', 'got "&" at character 18.'],
  ])('refuses %s with its place', (text, words) => {
    expect(refusal(text)).toContain(words);
  });

  test('names readings as they were written in what is refused', () => {
    expect(refusal('2 width(out) = 1 s')).not.toContain('_0');
  });
});
