import { linksOf } from '#notebook/edit/link-edits.ts';
import { boardDrawings } from '#notebook/schematic/board-drawings.ts';
import type { Drawing } from '#notebook/schematic/drawing.ts';
import { SYMBOL_REACH } from '#notebook/schematic/drawing.ts';
import { placeStage } from '#notebook/schematic/place.ts';
import { dischargeContact, textWidth } from '#notebook/schematic/room.ts';
import { shapesOf, timerShapesOf } from '#notebook/schematic/shape.ts';
import { type Stage, stagesOf } from '#notebook/schematic/stages.ts';
import { readyBoards } from '#sim/board/index.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { partsOf } from './board-parts.ts';
import { clashes, joinsAsDrawn, joinsAsMeant, netsOfEnds } from './read-drawing.ts';

/** The drawings of a board given as JSON. */
function drawings(board: unknown): { drawing: Drawing; stage: Stage }[] {
  const parts = partsOf(board);
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

/** Every wire that ends at a part or a pin must say that it is of the net which lies there. */
function expectNets(drawing: Drawing, stage: Stage): void {
  const drawn = netsOfEnds(drawing, stage);
  for (const { name, ends, side } of stage.shapes) {
    expect([...(drawn.get(`${name}.0`) ?? [])], name).toEqual([ends[0]]);
    if (ends[1] !== undefined) expect([...(drawn.get(`${name}.1`) ?? [])], name).toEqual([ends[1]]);
    if (side !== undefined) expect([...(drawn.get(`${name}.side`) ?? [])], name).toEqual([side]);
  }
  for (const [pin, net] of Object.entries(stage.timer?.pins ?? {})) {
    expect([...(drawn.get(`${stage.timer?.name}.${pin}`) ?? [])], pin).toEqual([net]);
  }
}

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
      for (const { x, y } of dots) expect(x > 0 && x < width && y > 0 && y < height).toBe(true);
      if (box !== undefined) expect(box.y > 0 && box.y + box.height < height && box.x + box.width < width).toBe(true);
    }
  });

  test('joins what the circuit joins, and nothing else', () => {
    for (const { drawing, stage } of all) expect(joinsAsDrawn(drawing, stage)).toEqual(joinsAsMeant(stage));
  });

  test('leaves every text and every symbol clear', () => {
    for (const { drawing } of all) expect(clashes(drawing)).toEqual([]);
  });

  test('has room for the contact of the discharge between names of pins at one height, in type of any size', () => {
    for (const pins of all.map(({ drawing }) => drawing.box?.pins ?? [])) {
      const discharge = pins.find(({ name, anchor }) => name === 'discharge' && anchor === 'start');
      if (discharge === undefined) continue;
      // In a tight place texts of 12 px stand in drawings at 0.9 of their size, 12.5 px high at 1 (elements/tt-drawing.ts).
      const size = 12 / 0.9 / 12.5;
      const contact = dischargeContact(discharge, size);
      for (const { name, x, y } of pins.filter(({ anchor }) => anchor === 'end')) {
        if (Math.abs(y - discharge.y) < 14) expect(contact.right, name).toBeLessThan(x - textWidth(name) * size);
      }
    }
  });

  test('has the net of every wire', () => {
    for (const { drawing, stage } of all) expectNets(drawing, stage);
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
    kind: fc.constantFrom('resistor', 'capacitor', 'pot', 'finger', 'link'),
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
              ends: [first, kind === 'finger' || kind === 'link' ? undefined : second] as const,
              ...(kind === 'link' ? { label: 'to bell.button' } : {}),
              ...(kind === 'pot' ? { side } : {}),
              value: '',
              polarised: false,
            })),
          ],
        };
        const drawing = placeStage(stage);
        expect(joinsAsDrawn(drawing, stage)).toEqual(joinsAsMeant(stage));
        expectNets(drawing, stage);
        expect(clashes(drawing)).toEqual([]);
        for (const { y } of drawing.symbols) expect(y + SYMBOL_REACH).toBeLessThanOrEqual(drawing.height);
      }),
    );
  });
});

describe('boardDrawings', () => {
  const parts = partsOf({ ready: 'monostable' });
  const document = {
    boards: { gate: { ready: 'monostable' }, bell: { ready: 'monostable' } },
    links: [
      { a: 'gate.out', b: 'bell.button', closed: false },
      { a: 'bell.out', b: 'gate.nowhere' },
    ],
  };

  test('draws a link as a jumper that hangs from its net and says where it leads', () => {
    const [drawing] = boardDrawings(parts, linksOf(document, 'gate'));
    const link = drawing?.symbols.find(({ label }) => label !== undefined);
    expect(link).toMatchObject({ part: 'link 1', label: 'link1', kind: 'jumper', value: 'to bell.button' });
    const shapes = [
      ...shapesOf(parts),
      { name: 'link 1', kind: 'jumper', title: '', ends: ['out', undefined] as const, value: '', polarised: false },
    ];
    const stage: Stage = { timer: timerShapesOf(parts)[0], shapes };
    if (drawing === undefined) throw new Error('there must be a drawing');
    expect([...(netsOfEnds(drawing, stage).get('link 1.0') ?? [])]).toEqual(['out']);
    expect(drawing?.description).toContain('link1, jumper to bell.button, on out');
    expect(drawing?.width).toBeGreaterThan((link?.x ?? Infinity) + 'to bell.button'.length * 6);
  });

  test('leaves out a link from a net that the board has not', () => {
    const [drawing] = boardDrawings(parts, linksOf(document, 'gate'));
    expect(drawing?.symbols.filter(({ label }) => label !== undefined)).toHaveLength(1);
    const bell = boardDrawings(parts, linksOf(document, 'bell'));
    expect(bell[0]?.symbols.flatMap(({ label, value }) => (label === undefined ? [] : `${label} ${value}`))).toEqual([
      'link1 to gate.out',
      'link2 to gate.nowhere',
    ]);
  });
});
