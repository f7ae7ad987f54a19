import type { Drawing } from '#notebook/schematic/drawing.ts';
import { SYMBOL_REACH } from '#notebook/schematic/drawing.ts';
import { placeStage } from '#notebook/schematic/place.ts';
import { shapesOf, timerShapesOf } from '#notebook/schematic/shape.ts';
import { stagesOf } from '#notebook/schematic/stages.ts';
import { readyBoards } from '#sim/board/index.ts';
import { type BoardResult, computeCell, parseDocument } from '#sim/document/index.ts';
import { describe, expect, test } from 'vitest';

/** The drawings of a board given as JSON. */
function drawings(board: unknown): Drawing[] {
  const text = JSON.stringify({
    format: 'two-thirds',
    version: 1,
    boards: { board },
    page: [{ id: 'cell', kind: 'board', board: 'board' }],
  });
  const { document } = parseDocument(text);
  if (document === undefined) throw new Error('the document must be usable');
  const { parts } = computeCell(document, 'cell') as BoardResult;
  const shapes = shapesOf(parts);
  const rails = new Set(['ground', ...shapes.filter(({ kind }) => kind === 'supply').map(({ ends }) => ends[0])]);
  return stagesOf(shapes, timerShapesOf(parts), rails).map(placeStage);
}

const boards = [...readyBoards.keys()].map((name): [string, unknown] => [name, { ready: name }]);
const twoTimers = {
  parts: [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '9 V' },
    ...['1', '2'].flatMap((n) => [
      { name: `R${n}`, kind: 'resistor', a: 'rail', b: `cap${n}`, resistance: '10 kΩ' },
      { name: `C${n}`, kind: 'capacitor', a: `cap${n}`, b: 'ground', capacitance: '1 µF' },
      {
        name: `U${n}`,
        kind: 'timer',
        pins: {
          supply: 'rail',
          ground: 'ground',
          trigger: n === '1' ? 'in' : 'out1',
          output: `out${n}`,
          threshold: `cap${n}`,
          discharge: `cap${n}`,
        },
      },
    ]),
    { name: 'P1', kind: 'pot', a: 'rail', wiper: 'in', b: 'ground', resistance: '10 kΩ' },
  ],
};

describe.each([...boards, ['two timers and a pot', twoTimers]])('placeStage of %s', (_, board) => {
  const all = drawings(board);

  test('draws every part once', () => {
    const names = all.flatMap((drawing) => [...drawing.symbols.map(({ part }) => part), drawing.box?.part ?? '']);
    expect(new Set(names).size).toBe(names.length);
    expect(names.length).toBeGreaterThan(3);
  });

  test('keeps symbols apart, and from the box', () => {
    for (const { symbols, box } of all) {
      for (const a of symbols) {
        for (const b of symbols.filter((each) => each !== a)) {
          expect(Math.abs(a.x - b.x) >= 24 || Math.abs(a.y - b.y) >= 2 * SYMBOL_REACH, `${a.part} ${b.part}`).toBe(
            true,
          );
        }
        if (box !== undefined) expect(a.x < box.x - 10 || a.x > box.x + box.width + 10, a.part).toBe(true);
      }
    }
  });

  test('stays inside its own frame', () => {
    for (const { width, height, symbols, box, dots } of all) {
      for (const { x, y } of symbols) {
        expect(x > 0 && x < width && y - SYMBOL_REACH >= 0 && y + SYMBOL_REACH <= height).toBe(true);
      }
      for (const [x, y] of dots) expect(x > 0 && x < width && y > 0 && y < height).toBe(true);
      if (box !== undefined) expect(box.y > 0 && box.y + box.height < height && box.x + box.width < width).toBe(true);
    }
  });

  test('joins the wires of one net and of no other', () => {
    for (const drawing of all) expect(netsJoinedWrongly(drawing)).toEqual([]);
  });

  test('has every pin of the timer, and says in words what it shows', () => {
    for (const { box, description } of all) {
      for (const name of ['supply', 'ground', 'trigger', 'output', 'threshold']) {
        expect(box?.pins.map((pin) => pin.name)).toContain(name);
        expect(description).toContain(name);
      }
    }
  });
});

/** Names of nets whose wires touch the wires of another net; found by walking the wires as a reader would. */
function netsJoinedWrongly({ wires, dots, names }: Drawing): string[][] {
  const lines = wires.flatMap(segments);
  const touches = (a: Line, b: Line): boolean => {
    const ends: [number, number][] = [
      [a.x1, a.y1],
      [a.x2, a.y2],
    ];
    // Wires join where one ends on the other, and at dots; a plain crossing joins nothing.
    return ends.some((end) => lies(end, b)) || dots.some((dot) => lies(dot, a) && lies(dot, b));
  };
  const group = new Map(lines.map((line) => [line, line]));
  const root = (line: Line): Line => (group.get(line) === line ? line : root(group.get(line) ?? line));
  for (const a of lines) for (const b of lines) if (a !== b && touches(a, b)) group.set(root(a), root(b));
  const byGroup = new Map<Line, string[]>();
  for (const { net, x, y } of names) {
    // A name stands above its wire, ground's below.
    const line = lines.find(
      (each) =>
        each.y1 === each.y2 &&
        Math.abs(each.y1 - y) <= 18 &&
        between(x, each.x1 - 30, each.x2 + 30) &&
        near(net, each.y1 - y),
    );
    if (line === undefined) throw new Error(`${net} must name a wire`);
    byGroup.set(root(line), [...(byGroup.get(root(line)) ?? []), net]);
  }
  return [...byGroup.values()].filter((nets) => new Set(nets).size > 1);
}

interface Line {
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
}

/** The straight pieces of a path of moves, level and upright lines. */
function segments(path: string): Line[] {
  const found: Line[] = [];
  let [x, y] = [0, 0];
  for (const [, command, text] of path.matchAll(/([MHVh])([-\d. ]+)/g)) {
    const numbers = (text ?? '').trim().split(/ +/).map(Number);
    const [x1, y1] = [x, y];
    if (command === 'M') [x = 0, y = 0] = numbers;
    else if (command === 'H') [x = 0] = numbers;
    else if (command === 'h') x += numbers[0] ?? 0;
    else [y = 0] = numbers;
    if (command !== 'M')
      found.push({ x1: Math.min(x1, x), y1: Math.min(y1, y), x2: Math.max(x1, x), y2: Math.max(y1, y) });
  }
  return found;
}

function lies([x, y]: readonly [number, number], line: Line): boolean {
  return between(x, line.x1, line.x2) && between(y, line.y1, line.y2);
}

function between(value: number, from: number, until: number): boolean {
  return value >= from - 0.01 && value <= until + 0.01;
}

function near(net: string, below: number): boolean {
  return net === 'ground' ? below < 0 : below > 0 && below < 10;
}
