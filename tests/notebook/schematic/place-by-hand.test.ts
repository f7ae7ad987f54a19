import { boardDrawings } from '#notebook/schematic/board-drawings.ts';
import type { Drawing } from '#notebook/schematic/drawing.ts';
import { keptLayout } from '#notebook/schematic/kept-layout.ts';
import { placeByHand } from '#notebook/schematic/place-by-hand.ts';
import { shapesOf, timerShapesOf } from '#notebook/schematic/shape.ts';
import type { Stage } from '#notebook/schematic/stages.ts';
import { readyBoards } from '#sim/board/index.ts';
import type { BoardResult } from '#sim/document/index.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { partsOf } from './board-parts.ts';
import { clashes, joinsAsDrawn, joinsAsMeant, netsOfEnds } from './read-drawing.ts';

type Parts = BoardResult['parts'];

/** The drawing of a circuit by a ready board's layout, and what it is to show; undefined where no layout is true of it. */
function byHand(parts: Parts): { drawing: Drawing; stage: Stage } | undefined {
  const shapes = shapesOf(parts);
  const [timer] = timerShapesOf(parts);
  const kept = keptLayout(parts);
  const drawing = timer === undefined || kept === undefined ? undefined : placeByHand(shapes, timer, kept);
  return drawing === undefined ? undefined : { drawing, stage: { timer, shapes } };
}

/** Every wire that ends at a part or a pin must say that it is of the net which lies there. */
function expectNets(drawing: Drawing, stage: Stage): void {
  const drawn = netsOfEnds(drawing, stage);
  for (const { name, ends, side } of stage.shapes) {
    expect([...(drawn.get(`${name}.0`) ?? [])], name).toEqual([ends[0]]);
    if (ends[1] !== undefined) expect([...(drawn.get(`${name}.1`) ?? [])], name).toEqual([ends[1]]);
    if (side !== undefined) expect([...(drawn.get(`${name}.side`) ?? [])], name).toEqual([side]);
  }
}

describe.each([...readyBoards])('the layout of the ready board %s', (name, board) => {
  const parts = partsOf({ ready: name });
  const made = byHand(parts);
  if (made === undefined) throw new Error('the layout must be true of its own board');
  const { drawing, stage } = made;

  test('holds every part and every pin, each in its place', () => {
    const places = drawing.symbols.map(({ part, x, y, first }) => [part, { x: x / 10, y: y / 10, first }]);
    const meant = Object.entries(board.layout.parts).map(([part, { x, y, first = 'up' }]) => [part, { x, y, first }]);
    expect(Object.fromEntries(places)).toEqual(Object.fromEntries(meant));
    expect(drawing.symbols).toHaveLength(parts.length - 1);
    expect(drawing.box?.x).toBe(board.layout.timer.x * 10);
    expect(drawing.box?.pins).toHaveLength(8);
    expect(boardDrawings(parts)).toEqual([drawing]);
  });

  test('joins what the circuit joins, and nothing else', () => {
    expect(joinsAsDrawn(drawing, stage)).toEqual(joinsAsMeant(stage));
    expectNets(drawing, stage);
  });

  test('leaves every text and every symbol clear, and names the nets of all pins', () => {
    expect(clashes(drawing)).toEqual([]);
    const pinned = Object.values(stage.timer?.pins ?? {});
    expect(drawing.names.map(({ net }) => net)).toEqual(expect.arrayContaining(pinned));
  });

  test('keeps the light of a lamp clear of the timer', () => {
    const lamps = drawing.symbols.filter(({ kind }) => kind === 'led');
    const end = (drawing.box?.x ?? 0) + (drawing.box?.width ?? 0);
    // The ring around a lit LED has a radius of 14 (elements/tt-drawing.ts); 3 px looked like touching.
    for (const { part, x } of lamps) expect(x - 14 - end, part).toBeGreaterThanOrEqual(6);
  });

  test('fits beside the page in type of at least 12 px', () => {
    // The column of the circuit is 423 px wide in a window of 1440 px.
    expect((drawing.width * 12) / 12.5).toBeLessThanOrEqual(423);
  });
});

describe('placeByHand(shapes, timer, kept)', () => {
  const monostable = partsOf({ ready: 'monostable' });
  const part = (name: string): Parts[number] => {
    const found = monostable.find((each) => each.name === name);
    if (found === undefined) throw new Error(`no part ${name}`);
    return found;
  };
  const drawn = (parts: Parts): Drawing => {
    const made = byHand(parts);
    if (made === undefined) throw new Error('the layout must still be true');
    expect(joinsAsDrawn(made.drawing, made.stage)).toEqual(joinsAsMeant(made.stage));
    expect(clashes(made.drawing)).toEqual([]);
    return made.drawing;
  };
  const placesIn = ({ symbols }: Drawing) => new Map(symbols.map(({ part: name, x, y }) => [name, { x, y }]));
  const before = placesIn(drawn(monostable));

  test('keeps every place when parts are taken out', () => {
    const places = placesIn(drawn(monostable.filter(({ name }) => name !== 'R3' && name !== 'D1')));
    for (const [name, place] of places) expect(place, name).toEqual(before.get(name));
    expect(places.size).toBe(before.size - 2);
  });

  test('keeps the place of a part that becomes another kind, turns round or gets another name', () => {
    const pot = { ...part('R1'), kind: 'pot', nets: { ...part('R1').nets, wiper: 'timing' } };
    const turned = { ...part('D1'), nets: { a: 'ground', b: 'lamp' } };
    const renamed = { ...part('C1'), name: 'C9' };
    const changed = new Map([
      ['R1', pot],
      ['D1', turned],
      ['C1', renamed],
    ]);
    const drawing = drawn(monostable.map((each) => changed.get(each.name) ?? each));
    const places = placesIn(drawing);
    expect(places.get('R1')?.y).toBe(before.get('R1')?.y);
    expect(places.get('C9')?.y).toBe(before.get('C1')?.y);
    expect(places.get('D1')?.y).toBe(before.get('D1')?.y);
    expect(drawing.symbols.find((symbol) => symbol.part === 'D1')?.first).toBe('down');
  });

  test('keeps places when nets are called otherwise', () => {
    const called = (net: string): string => (net === 'rail' || net === 'ground' ? net : `${net}2`);
    const renamed = monostable.map((each) => ({
      ...each,
      nets: Object.fromEntries(Object.entries(each.nets).map(([terminal, net]) => [terminal, called(net)])),
    }));
    expect(placesIn(drawn(renamed))).toEqual(before);
  });

  test('puts a new part near its nets; the others keep their heights and their order', () => {
    const added = { ...part('C1'), name: 'C2', nets: { a: 'control', b: 'ground' } };
    const places = placesIn(drawn([...monostable, added]));
    for (const [name, { y }] of before) expect(places.get(name)?.y, name).toBe(y);
    const order = (map: ReadonlyMap<string, { x: number }>): string[] =>
      [...before.keys()].sort((a, b) => (map.get(a)?.x ?? 0) - (map.get(b)?.x ?? 0) || a.localeCompare(b));
    expect(order(places)).toEqual(order(before));
  });

  test('makes room for long names and values', () => {
    const long = monostable.map((each) =>
      each.name === 'R1' ? { ...each, fields: each.fields.map((field) => ({ ...field, text: '390.1234 kΩ' })) } : each,
    );
    expect(placesIn(drawn(long)).get('D1')?.x).toBeGreaterThan(before.get('D1')?.x ?? Infinity);
  });

  test('is given up where most of the circuit is another', () => {
    const other = monostable.map((each) =>
      each.kind === 'timer' || each.kind === 'supply'
        ? each
        : { ...each, nets: { a: `${each.name}x`, b: `${each.name}y` } },
    );
    expect(keptLayout(other)).toBeUndefined();
    expect(keptLayout(monostable.filter(({ kind }) => kind !== 'timer'))).toBeUndefined();
  });

  const net = fc.constantFrom('rail', 'ground', 'timing', 'button', 'out', 'lamp', 'control', 'new1', 'new2');
  const edit = fc.oneof(
    fc.record({ do: fc.constant('take out' as const), at: fc.nat(7) }),
    fc.record({ do: fc.constant('rewire' as const), at: fc.nat(7), end: fc.constantFrom('a', 'b'), net }),
    fc.record({
      do: fc.constant('add' as const),
      kind: fc.constantFrom('resistor', 'capacitor', 'led', 'pot', 'finger', 'transistor'),
      nets: fc.tuple(net, net, net),
    }),
  );

  function edited(edits: readonly (typeof edit extends fc.Arbitrary<infer E> ? E : never)[]): Parts {
    let parts = [...monostable];
    for (const [index, each] of edits.entries()) {
      if (each.do === 'add') {
        const [a, b, c] = each.nets;
        const nets: Record<string, string> =
          each.kind === 'pot'
            ? { a, wiper: c, b }
            : each.kind === 'transistor'
              ? { collector: a, base: c, emitter: b }
              : each.kind === 'finger'
                ? { a }
                : { a, b };
        parts = [...parts, { ...part('R1'), name: `X${index}`, kind: each.kind, nets }];
      } else {
        const found = parts[each.at % parts.length];
        if (found === undefined || found.kind === 'timer') continue;
        if (each.do === 'take out') parts = parts.filter((other) => other !== found);
        else if (each.end in found.nets) {
          parts = parts.map((other) =>
            other === found ? { ...found, nets: { ...found.nets, [each.end]: each.net } } : other,
          );
        }
      }
    }
    return parts;
  }

  test('of any changed board either joins what the circuit joins with all of it clear, or is given up', () => {
    let drawnByHand = 0;
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 3 }), (edits) => {
        const made = byHand(edited(edits));
        if (made === undefined) return;
        drawnByHand += 1;
        expect(joinsAsDrawn(made.drawing, made.stage)).toEqual(joinsAsMeant(made.stage));
        expectNets(made.drawing, made.stage);
        expect(clashes(made.drawing)).toEqual([]);
      }),
      { numRuns: 60 },
    );
    expect(drawnByHand).toBeGreaterThan(30);
  });
});
