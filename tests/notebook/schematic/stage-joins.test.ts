import { boardDrawings } from '#notebook/schematic/board-drawings.ts';
import { expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

/** The gong of a crossing whose end starts the lamp; `more` are parts of the second stage. */
function drawings(more: readonly object[]) {
  const timer = (name: string, trigger: string, output: string, timing: string) => ({
    name,
    kind: 'timer',
    pins: { supply: 'rail', ground: 'ground', trigger, output, reset: 'rail', threshold: timing, discharge: timing },
  });
  const parts = [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V' },
    timer('U1', 'lever', 'gong', 'gate'),
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'gate', resistance: '100 kΩ' },
    { name: 'C1', kind: 'capacitor', a: 'gate', b: 'ground', capacitance: '10 µF' },
    { name: 'R2', kind: 'resistor', a: 'rail', b: 'lever', resistance: '10 kΩ' },
    ...more,
  ];
  const page = documentOf({ crossing: { parts } }, [{ id: 'board', kind: 'board', board: 'crossing' }]);
  return boardDrawings(resultOf(computed(page), 'board', 'board').parts);
}

test('every drawing of a board says where its nets go on in the others, supply nets left out', () => {
  const pins = { supply: 'rail', ground: 'ground', trigger: 'handed', output: 'lamp', reset: 'rail' };
  const both = drawings([
    { name: 'C2', kind: 'capacitor', a: 'gong', b: 'handed', capacitance: '10 nF' },
    { name: 'R3', kind: 'resistor', a: 'rail', b: 'handed', resistance: '10 kΩ' },
    { name: 'U2', kind: 'timer', pins: { ...pins, threshold: 'light', discharge: 'light' } },
    { name: 'R4', kind: 'resistor', a: 'rail', b: 'light', resistance: '100 kΩ' },
    { name: 'C3', kind: 'capacitor', a: 'light', b: 'ground', capacitance: '10 µF' },
  ]);
  expect(both.map(({ goesOn }) => goesOn)).toEqual([
    ['handed goes on at trigger of U2 and R3.'],
    ['handed goes on at C2.'],
  ]);
});

test('a board of one drawing goes on nowhere', () => {
  expect(drawings([]).map(({ goesOn }) => goesOn)).toEqual([undefined]);
});
