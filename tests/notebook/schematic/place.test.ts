import type { Drawing } from '#notebook/schematic/drawing.ts';
import { SYMBOL_REACH } from '#notebook/schematic/drawing.ts';
import { placeStage } from '#notebook/schematic/place.ts';
import { shapesOf, timerShapesOf } from '#notebook/schematic/shape.ts';
import { type Stage, stagesOf } from '#notebook/schematic/stages.ts';
import { readyBoards } from '#sim/board/index.ts';
import { type BoardResult, computeCell, parseDocument } from '#sim/document/index.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { joinsAsDrawn, joinsAsMeant } from './read-drawing.ts';

/** The drawings of a board given as JSON. */
function drawings(board: unknown): { drawing: Drawing; stage: Stage }[] {
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
  return stagesOf(shapes, timerShapesOf(parts), rails).map((stage) => ({ drawing: placeStage(stage), stage }));
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
    const names = all.flatMap(({ drawing }) => [...drawing.symbols.map(({ part }) => part), drawing.box?.part ?? '']);
    expect(new Set(names).size).toBe(names.length);
    expect(names.length).toBeGreaterThan(3);
  });

  test('keeps symbols apart, and from the box', () => {
    for (const { symbols, box } of all.map(({ drawing }) => drawing)) {
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
    for (const { width, height, symbols, box, dots } of all.map(({ drawing }) => drawing)) {
      for (const { x, y } of symbols) {
        expect(x > 0 && x < width && y - SYMBOL_REACH >= 0 && y + SYMBOL_REACH <= height).toBe(true);
      }
      for (const [x, y] of dots) expect(x > 0 && x < width && y > 0 && y < height).toBe(true);
      if (box !== undefined) expect(box.y > 0 && box.y + box.height < height && box.x + box.width < width).toBe(true);
    }
  });

  test('joins what the circuit joins, and nothing else', () => {
    for (const { drawing, stage } of all) expect(joinsAsDrawn(drawing, stage)).toEqual(joinsAsMeant(stage));
  });

  test('has every pin of the timer, and says in words what it shows', () => {
    for (const { box, description } of all.map(({ drawing }) => drawing)) {
      for (const name of ['supply', 'ground', 'trigger', 'output', 'threshold']) {
        expect(box?.pins.map((pin) => pin.name)).toContain(name);
        expect(description).toContain(name);
      }
    }
  });
});

describe('placeStage of any circuit', () => {
  const net = fc.constantFrom('rail', 'ground', 'n1', 'n2', 'n3', 'n4', 'n5');
  const pins = ['reset', 'discharge', 'threshold', 'trigger', 'control', 'output'];
  const shape = fc.record({
    kind: fc.constantFrom('resistor', 'capacitor', 'pot', 'finger'),
    first: net,
    second: net,
    side: net,
  });
  const circuit = fc.record({
    shapes: fc.array(shape, { maxLength: 9 }),
    pinNets: fc.array(net, { minLength: 6, maxLength: 6 }),
    hasTimer: fc.boolean(),
  });

  test('joins what the circuit joins, and nothing else', () => {
    fc.assert(
      fc.property(circuit, ({ shapes, pinNets, hasTimer }) => {
        const stage: Stage = {
          timer: hasTimer
            ? {
                name: 'U1',
                family: 'ideal',
                pins: {
                  supply: 'rail',
                  ground: 'ground',
                  ...Object.fromEntries(pins.map((pin, index) => [pin, pinNets[index] ?? 'n1'])),
                },
              }
            : undefined,
          shapes: [
            { name: 'BT1', kind: 'supply', title: 'supply', ends: ['rail', 'ground'], value: '9 V', polarised: false },
            ...shapes.map(({ kind, first, second, side }, index) => ({
              name: `X${index}`,
              kind,
              title: kind,
              ends: [first, kind === 'finger' ? undefined : second] as const,
              ...(kind === 'pot' ? { side } : {}),
              value: '',
              polarised: false,
            })),
          ],
        };
        expect(joinsAsDrawn(placeStage(stage), stage)).toEqual(joinsAsMeant(stage));
      }),
    );
  });
});
