import { describe, expect, test } from 'vitest';
import { changeKind } from '#notebook/edit/change-kind.ts';
import { boardParts } from '#notebook/edit/board-values.ts';
import type { Json, JsonRecord } from '#notebook/edit/json.ts';
import { partStarts } from '#notebook/edit/part-starts.ts';
import { valueAt, withValue } from '#notebook/edit/path.ts';
import { checkDocument, computeDocument } from '#sim/document/index.ts';

/** A lamp of platform 2 with one part more, and knobs. */
function boardWith(part: JsonRecord, knobs: readonly string[] = []): Json {
  return {
    format: 'two-thirds',
    version: 1,
    title: 'Platform 2',
    boards: {
      lamp: {
        parts: [
          { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '6 V', origin: 'battery' },
          part,
          { name: 'R9', kind: 'resistor', a: 'top', b: 'ground', resistance: '1 kΩ' },
        ],
      },
    },
    page: [{ id: 'board', kind: 'board', board: 'lamp', knobs: [...knobs] }],
  };
}

function changed(document: Json, part: string, kind: string): Json {
  const edit = changeKind(document, 'lamp', part, kind);
  if (edit === undefined) throw new Error('edit: there must be one; got none.');
  return withValue(document, edit.path, edit.value);
}

function partOf(document: Json): JsonRecord | undefined {
  return boardParts(document, 'lamp')[1];
}

const resistor = { name: 'R1', kind: 'resistor', a: 'rail', b: 'top', resistance: '470 Ω', tolerance: '5 %' };

describe('changeKind', () => {
  test('keeps place, name and nets, what has the same name and unit, and begins the rest anew', () => {
    expect(partOf(changed(boardWith(resistor), 'R1', 'pot'))).toEqual({
      name: 'R1',
      kind: 'pot',
      a: 'rail',
      wiper: expect.stringMatching(/^node\d+$/),
      b: 'top',
      resistance: '470 Ω',
      position: 0.5,
    });
    expect(partOf(changed(boardWith(resistor), 'R1', 'capacitor'))).toEqual({
      name: 'R1',
      kind: 'capacitor',
      a: 'rail',
      b: 'top',
      capacitance: '100 nF',
      tolerance: '5 %',
    });
  });

  test('takes ends by what they mean, not by their number: a wiper and a base are no ends', () => {
    const pot = { name: 'RV1', kind: 'pot', a: 'rail', wiper: 'top', b: 'ground', resistance: '10 kΩ' };
    expect(partOf(changed(boardWith(pot), 'RV1', 'resistor'))).toMatchObject({ a: 'rail', b: 'ground' });
    expect(partOf(changed(boardWith(resistor), 'R1', 'transistor'))).toMatchObject({
      base: expect.not.stringMatching(/^(rail|top)$/),
      collector: 'rail',
      emitter: 'top',
    });
    const source = {
      name: 'G1',
      kind: 'signal',
      plus: 'top',
      minus: 'ground',
      wave: { shape: 'constant', level: '5 V' },
    };
    expect(partOf(changed(boardWith(source), 'G1', 'resistor'))).toMatchObject({ a: 'top', b: 'ground' });
    expect(partOf(changed(boardWith(resistor), 'R1', 'timer'))).toMatchObject({
      pins: { supply: 'rail', ground: 'ground' },
    });
  });

  test('puts the open end of a probe where it lay: on ground', () => {
    const probe = { name: 'P1', kind: 'probe', a: 'top' };
    expect(partOf(changed(boardWith(probe), 'P1', 'capacitor'))).toMatchObject({ a: 'top', b: 'ground' });
  });

  test('keeps presses from one contact to another, and drops fields that the new kind has not', () => {
    const button = { name: 'S1', kind: 'button', a: 'rail', b: 'top', presses: [{ at: 1, for: 2 }], closed: false };
    const jumper = partOf(changed(boardWith(button), 'S1', 'jumper'));
    expect(jumper).toMatchObject({ presses: [{ at: 1, for: 2 }], closed: false });
    expect(partOf(changed(boardWith(button), 'S1', 'led'))).toEqual({
      name: 'S1',
      kind: 'led',
      a: 'rail',
      b: 'top',
      colour: 'red',
    });
  });

  test('takes knobs out that would turn nothing, and leaves the others', () => {
    const knobs = ['R1', 'R1.tolerance', 'R9', 'BT1.voltage'];
    const knobsAfter = (kind: string) => valueAt(changed(boardWith(resistor, knobs), 'R1', kind), ['page', 0, 'knobs']);
    expect(knobsAfter('capacitor')).toEqual(knobs);
    expect(knobsAfter('probe')).toEqual(['R1', 'R9', 'BT1.voltage']);
    expect(knobsAfter('button')).toEqual(['R9', 'BT1.voltage']);
  });

  test('is one step with a name; none where nothing changes or the board’s parts are not its own', () => {
    expect(changeKind(boardWith(resistor), 'lamp', 'R1', 'led')?.label).toBe('R1 to an LED');
    expect(changeKind(boardWith(resistor), 'lamp', 'R1', 'resistor')).toBeUndefined();
    expect(changeKind(boardWith(resistor), 'lamp', 'R7', 'led')).toBeUndefined();
    const ready = withValue(boardWith(resistor), ['boards', 'lamp'], { ready: 'monostable' });
    expect(changeKind(ready, 'lamp', 'R1', 'led')).toBeUndefined();
  });

  // Whatever becomes what, the board is read; only rules about what lies where may then speak of it.
  test.each(partStarts.flatMap(({ kind }) => partStarts.map((other) => [kind, other.kind] as const)))(
    'from %s to %s gives a part that the document check reads',
    (from, to) => {
      if (from === to) return;
      const first = changed(boardWith(from === 'resistor' ? { ...resistor, kind: 'led' } : resistor), 'R1', from);
      const { document, unusable } = checkDocument(changed(first, 'R1', to));
      expect(unusable).toBeUndefined();
      const result = document === undefined ? undefined : computeDocument(document).results['board'];
      const codes = result?.ok === false ? (result.issues ?? []).map(({ code }) => code) : [];
      const about = [
        'unknown-field',
        'missing-field',
        'bad-value',
        'unknown-kind',
        'missing-net',
        'bad-net',
        'unknown-pin',
      ];
      expect(codes.filter((code) => about.includes(code))).toEqual([]);
    },
  );
});
