import { boardSubject, boardValue, type BoardValue } from '#sim/document/board-subject.ts';
import { checkBoards, type GoodBoard } from '#sim/document/board-table.ts';
import { parseReading } from '#sim/measure/parse-reading.ts';
import { evaluate } from '#sim/study/evaluate.ts';
import { describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';

function boardOf(values: object, more: object = {}, boards: object = {}): GoodBoard {
  const all = { counter: { ready: 'frequency divider', values: { 'U1.family': 'ideal', ...values } }, ...boards };
  const board = checkBoards(usable(documentOf(all, [], more))).boards.get('counter');
  if (board?.ok !== true) throw new Error('the board must be good');
  return board;
}

function valueOf(name: string, board: GoodBoard): BoardValue {
  const found = boardValue(name, board);
  if (!found.ok) throw new Error(found.message);
  return found.value;
}

/** The mean width of `out` with some values put in, or the reason why there is none. */
function widthWith(
  board: GoodBoard,
  given: Readonly<Record<string, number>>,
  net = 'out',
): number | string | undefined {
  const subject = boardSubject(
    board,
    Object.keys(given).map((name) => valueOf(name, board)),
  );
  const readings = [parseReading(`width(${net})`)];
  const question = { readings, window: { from: 0, until: 6 }, maxEvents: 1e6 };
  const [measured] = evaluate(subject, new Map(Object.entries(given)), question)?.measured ?? [];
  return measured?.value ?? measured?.reason;
}

describe('boardValue(name, board)', () => {
  const board = boardOf({ R1: '47 kΩ' });

  test('finds numbers as knobs name them, with unit and present value', () => {
    const found = ['R1', 'BT1.voltage', 'G1.wave.period', 'G1.wave.count', 'U1.with.dividerResistance'].map((name) => {
      const { unit, now } = valueOf(name, boardOf({ 'G1.wave.count': 3 }));
      return [name, unit, now];
    });
    // Values of the ready board and of the `ideal` family (5 kΩ divider: model.md's family of that name).
    expect(found).toEqual([
      ['R1', 'Ω', 68e3],
      ['BT1.voltage', 'V', 12],
      ['G1.wave.period', 's', 0.15],
      ['G1.wave.count', null, 3],
      ['U1.with.dividerResistance', 'Ω', 5e3],
    ]);
    expect(valueOf('R1', board).now).toBe(47e3);
    expect(valueOf('C1.leakage', board).now).toBe(null);
  });

  test('refuses parts and fields that are not there, and values that are no numbers', () => {
    expect(boardValue('R9', board)).toMatchObject({
      ok: false,
      message: expect.stringContaining('name a part') as string,
    });
    for (const name of ['U1.family', 'G1.wave', 'G1.wave.periode', 'R1.tolerance']) {
      const found = boardValue(name, board);
      expect(found.ok ? name : found.message).toContain('must name a number');
    }
  });
});

describe('boardSubject(board, values)', () => {
  test('puts values in', () => {
    // Ideal family: T = R C ln 3 (model.md, closed form); 1e-12 for the rounding of some hundred steps.
    const interval = 33e3 * 4.7e-6 * Math.log(3);
    expect(Math.abs(Number(widthWith(boardOf({}), { R1: 33e3 })) / interval - 1)).toBeLessThan(1e-12);
  });

  test('gives what a board with that value written into it gives, bit for bit', () => {
    for (const [name, number] of [
      ['R1', 33e3],
      ['BT1.voltage', 9],
      ['G1.wave.period', 0.2],
      ['U1.with.dischargeResistance', 20],
      ['C1.leakage', 1e6],
    ] as const) {
      const written = widthWith(boardOf({ [name]: number }), { 'G1.wave.width': 0.008 });
      expect([name, widthWith(boardOf({}), { [name]: number, 'G1.wave.width': 0.008 })]).toEqual([name, written]);
    }
  });

  test('says why values make no circuit', () => {
    expect(widthWith(boardOf({}), { R1: -1 })).toContain('R1: resistance must be');
    expect(widthWith(boardOf({}), { 'G1.wave.width': 1 })).toContain('width');
  });

  test('checks the circuit as a whole again where a part comes to join nets', () => {
    // BT1 and C1 then lie in parallel, which is allowed; a second supply of another voltage there would not be.
    const parts = [
      { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 12 },
      { name: 'BT2', kind: 'supply', plus: 'other', minus: 'ground', voltage: 5 },
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'other', resistance: 100 },
    ];
    const board = checkBoards(usable(documentOf({ two: { parts } }, []))).boards.get('two');
    if (board?.ok !== true) throw new Error('the board must be good');
    const built = boardSubject(board, [valueOf('R1', board)])(new Map([['R1', 0]]));
    expect(built.ok ? '' : built.reason).toMatch(/BT1.*BT2|BT2.*BT1/);
  });

  test('changes the own part of a board that is linked, and goes by its own names', () => {
    const other = { ready: 'frequency divider', values: { 'U1.family': 'ideal' } };
    const links = { links: [{ a: 'other.out', b: 'counter.control' }] };
    const apart = widthWith(boardOf({}, links, { other }), { R1: 33e3 }, 'counter.out');
    const written = widthWith(boardOf({ R1: 33e3 }, links, { other }), { C1: 4.7e-6 }, 'counter.out');
    expect(typeof apart).toBe('number');
    expect(apart).toBe(written);
  });

  test('refuses names it was not made for', () => {
    expect(() => boardSubject(boardOf({}), [])(new Map([['R1', 1]]))).toThrow(RangeError);
  });
});
