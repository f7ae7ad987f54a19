import { predictBoard, type ReadyBoard, readyBoards } from '#sim/board/index.ts';
import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import type { Circuit } from '#sim/circuit/description.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { findValue } from '#sim/document/knob.ts';
import { describe, expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

const boards = [...readyBoards.values()];

function circuitOf(board: ReadyBoard): Circuit {
  const { circuit, issues } = checkCircuit(board.circuit, standardKinds);
  expect(issues).toEqual([]);
  if (circuit === undefined) throw new Error(board.name);
  return circuit;
}

/** Takes readings of a ready board with other values, and the textbook's numbers. */
function held(ready: string, values: object, until: string, take: Record<string, string>) {
  const cells = [
    { id: 'n', kind: 'reading', board: 'b', until, take },
    { id: 'b', kind: 'board', board: 'b' },
  ];
  const results = computed(documentOf({ b: { ready, values } }, cells));
  const textbook = resultOf(results, 'b', 'board').textbook.map(({ name, value }) => [name, value] as const);
  return { read: resultOf(results, 'n', 'reading').values, textbook: Object.fromEntries(textbook) };
}

/** Relative difference of two numbers. */
function apart(a: unknown, b: unknown): number {
  return Math.abs((a as number) / (b as number) - 1);
}

describe('readyBoards', () => {
  test('are the four of the first version, by name', () => {
    expect([...readyBoards.keys()]).toEqual(['frequency divider', 'astable', 'monostable', 'touch switch']);
  });

  test.each(boards)('$name: the circuit has neither fault nor warning', (board) => {
    circuitOf(board);
  });

  test.each(boards)('$name: every named value is on the board', ({ values, circuit }) => {
    for (const { name, title } of values) {
      expect(findValue(name, circuit.parts, standardKinds)).toMatchObject({ ok: true });
      expect(title).not.toBe('');
    }
  });

  test.each(boards)('$name: every rule of thumb gives a number and says where it comes from', (board) => {
    for (const { value, source, formula } of predictBoard(board, circuitOf(board))) {
      expect(value).toBeGreaterThan(0);
      expect(source).not.toBe('');
      expect(formula).toContain('=');
    }
  });

  test.each(boards)('$name: every supply states that it is a battery or isolated', (board) => {
    const origins = circuitOf(board)
      .parts.filter(({ kind }) => kind === 'supply')
      .map(({ values }) => values['origin']);
    expect(origins.every((origin) => origin === 'battery' || origin === 'isolated')).toBe(true);
  });
});

describe('predictBoard(board, circuit)', () => {
  test('gives no value where a rule needs what the circuit does not have', () => {
    const divider = readyBoards.get('frequency divider')!;
    const circuit = circuitOf(divider);
    const steady = circuit.parts.map((part) =>
      part.name === 'G1' ? { ...part, values: { wave: { shape: 'constant', level: 1 } } } : part,
    );
    const rows = predictBoard(divider, { ...circuit, parts: steady });
    expect(rows.map(({ name, value }) => [name, value === null])).toEqual([
      ['interval', false],
      ['ratio', true],
    ]);
  });
});

/*
 * Rules of thumb against the engine, ideal family. The tolerance is what the printed constant leaves out: 1.1 for
 * ln 3 = 1.0986 is 1.3e-3, 0.693 for ln 2 = 0.69315 is 2.2e-4, 1.44 for 1 / ln 2 = 1.4427 is 1.9e-3 (derived).
 */
describe('rules of thumb against the engine', () => {
  const ideal = { 'U1.family': 'ideal' };

  test('monostable: T = 1.1 R C', () => {
    const { read, textbook } = held('monostable', ideal, '20 s', { width: 'width(out)' });
    expect(apart(read['width'], textbook['interval'])).toBeLessThan(1.4e-3);
  });

  test.each([
    ['15 kΩ', 1],
    ['68 kΩ', 3],
    ['100 kΩ', 4],
    ['180 kΩ', 7],
  ])('frequency divider: R1 = %s divides by %i', (resistance, ratio) => {
    const { read, textbook } = held('frequency divider', { ...ideal, R1: resistance }, '15 s', {
      ratio: 'ratio(out, in)',
    });
    expect(textbook['ratio']).toBe(ratio);
    expect(read['ratio']).toBe(ratio);
  });

  test('astable: high, low, frequency and duty', () => {
    const take = { high: 'width(out)', low: 'low(out)', frequency: 'frequency(out)', duty: 'duty(out)' };
    const cells = [{ id: 'n', kind: 'reading', board: 'b', from: '3 s', until: '20 s', take }];
    const results = computed(documentOf({ b: { ready: 'astable', values: ideal } }, cells));
    const { values: read } = resultOf(results, 'n', 'reading');
    const { textbook } = held('astable', ideal, '1 s', { count: 'count(out)' });
    expect(apart(read['high'], textbook['high'])).toBeLessThan(2.3e-4);
    expect(apart(read['low'], textbook['low'])).toBeLessThan(2.3e-4);
    expect(apart(read['frequency'], textbook['frequency'])).toBeLessThan(2e-3);
    // The duty rule has no rounded constant: only the rounding of the computation is left.
    expect(apart(read['duty'], textbook['duty'])).toBeLessThan(1e-12);
  });

  test('touch switch: interval, and the pull at the instant of the touch', () => {
    const { read, textbook } = held('touch switch', ideal, '5 s', { width: 'width(out)', lowest: 'trough(touched)' });
    expect(apart(read['width'], textbook['interval'])).toBeLessThan(1.4e-3);
    // A voltage divider, exact; 1e-9 leaves room for the rounding of a 10 MΩ network.
    expect(apart(read['lowest'], textbook['pull'])).toBeLessThan(1e-9);
  });

  test.each(boards)('$name: every rule names the reading that gives the same number', ({ name, textbook }) => {
    // Of the astable, what comes after the first charge from 0 V.
    const from = name === 'astable' ? '3 s' : '0 s';
    const take = Object.fromEntries(textbook.map((rule) => [rule.name, rule.reading]));
    const cell = { id: 'n', kind: 'reading', board: 'b', from, until: '20 s', take };
    const { values } = resultOf(computed(documentOf({ b: { ready: name, values: ideal } }, [cell])), 'n', 'reading');
    const rules = held(name, ideal, '20 s', take).textbook;
    for (const { name: rule } of textbook) expect(apart(values[rule], rules[rule]), rule).toBeLessThan(2e-3);
  });

  test('touch switch: 10 MΩ of pull-up is overruled at once, 1 MΩ is not', () => {
    // Divider rule: V (R3 + Rskin) / (R2 + R3 + Rskin) must be below V / 3, so R2 above 2 (R3 + Rskin) = 2.02 MΩ (derived).
    const rings = (pullUp: string): unknown =>
      held('touch switch', { R2: pullUp }, '5 s', { n: 'count(out)' }).read['n'];
    expect([rings('10 MΩ'), rings('2.1 MΩ'), rings('1.9 MΩ')]).toEqual([1, 1, 0]);
  });
});
