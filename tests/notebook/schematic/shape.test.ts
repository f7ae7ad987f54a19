import { shapesOf } from '#notebook/schematic/shape.ts';
import { expect, test } from 'vitest';
import { computed, documentOf, resultOf } from '../../support/documents.ts';

/** What stands beside the symbols of a board, by name. */
function besides(more: object): Record<string, string> {
  const parts = [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V' },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'base', resistance: '1 MΩ' },
    { name: 'K1', kind: 'relay', a: 'rail', b: 'coil', voltage: '12 V', resistance: '360 Ω' },
    { name: 'D1', kind: 'diode', a: 'coil', b: 'rail', ...more },
    { name: 'Q1', kind: 'transistor', base: 'base', collector: 'coil', emitter: 'ground', ...more },
  ];
  const page = documentOf({ points: { parts } }, [{ id: 'board', kind: 'board', board: 'points' }]);
  const shapes = shapesOf(resultOf(computed(page), 'board', 'board').parts);
  return Object.fromEntries(shapes.map(({ name, value }) => [name, value.replaceAll('\u202f', ' ')]));
}

test('a forward voltage stands beside a diode only where it is stated', () => {
  expect(besides({})).toMatchObject({ D1: '', Q1: 'npn', K1: '360 Ω' });
  expect(besides({ forward: '0.3 V' })['D1']).toBe('300 mV');
});

test('the gain of a transistor stands beside it where it has one', () => {
  const parts = [
    { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: '12 V' },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'base', resistance: '1 MΩ' },
    { name: 'Q1', kind: 'transistor', base: 'base', collector: 'rail', emitter: 'ground', gain: 150 },
  ];
  const page = documentOf({ points: { parts } }, [{ id: 'board', kind: 'board', board: 'points' }]);
  const shapes = shapesOf(resultOf(computed(page), 'board', 'board').parts);
  expect(shapes.find(({ name }) => name === 'Q1')?.value).toBe('npn, gain 150');
});
