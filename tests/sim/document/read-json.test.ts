import { DEEPEST_NESTING, readJson } from '#sim/document/read-json.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const nested = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);

/** What a refused text gives, in short. */
function faultOf(text: string): { where: string; rule: string; got: string } | undefined {
  const read = readJson(text);
  return read.ok ? undefined : { where: read.where, rule: read.rule, got: read.got };
}

describe('readJson(text)', () => {
  test('reads every JSON value as JSON.parse does', () => {
    // The oracle is the platform's own reader (RFC 8259), which shares no code with ours.
    fc.assert(
      fc.property(fc.json({ maxDepth: 5 }), fc.boolean(), (text, indented) => {
        const value = JSON.parse(text) as unknown;
        const written = indented ? JSON.stringify(value, null, 2) : text;
        expect(readJson(written)).toEqual({ ok: true, value });
      }),
    );
  });

  test('never throws, and refuses what JSON.parse refuses, whatever the text', () => {
    const pieces = fc.constantFrom(
      '{',
      '}',
      '[',
      ']',
      ':',
      ',',
      '"',
      '\\',
      '"a"',
      '1',
      '-',
      '.5',
      'e9',
      'true',
      'nul',
      ' ',
      '\n',
      '\u0000',
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 12 }), (list) => {
        const text = list.join('');
        let accepted = true;
        try {
          JSON.parse(text);
        } catch {
          accepted = false;
        }
        const read = readJson(text);
        // Ours refuses more: one name twice.
        if (!accepted) expect(read.ok).toBe(false);
        if (!read.ok) expect(read.where).toMatch(/^line \d+, column \d+$/);
      }),
    );
  });

  test('skips a byte order mark', () => {
    expect(readJson('\uFEFF{}')).toEqual({ ok: true, value: {} });
  });

  test('keeps a member named __proto__ as data of its own', () => {
    const read = readJson('{ "__proto__": { "polluted": true } }');
    const value = (read.ok ? read.value : undefined) as Record<string, unknown>;
    expect(Object.keys(value)).toEqual(['__proto__']);
    expect(Object.getPrototypeOf(value)).toBe(Object.prototype);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });

  test('says line and column, counted from 1', () => {
    expect(faultOf('{\n  "a": 1,\n  "b" 2\n}')).toEqual({
      where: 'line 3, column 7',
      rule: 'go on with a colon after the name',
      got: '"2"',
    });
  });

  test('refuses a name given twice in one object, but not in two', () => {
    expect(faultOf('{ "a": 1, "a": 2 }')?.got).toBe('"a" twice');
    expect(faultOf('[{ "a": 1 }, { "a": 2 }]')).toBeUndefined();
  });

  test('reads nesting to its limit and refuses one more', () => {
    expect(faultOf(nested(DEEPEST_NESTING))).toBeUndefined();
    expect(faultOf(nested(DEEPEST_NESTING + 1))?.rule).toBe(`nest lists and objects at most ${DEEPEST_NESTING} deep`);
  });

  test('takes a million opening brackets without running out of stack', () => {
    expect(faultOf('['.repeat(1e6))?.rule).toContain('nest');
  });

  test.each(['01', '+1', '.5', '1.', '1e', '0x10', 'NaN', 'Infinity', '1e999', '-'])(
    'refuses %s as a number',
    (text) => {
      expect(readJson(`[${text}]`).ok).toBe(false);
    },
  );
});
