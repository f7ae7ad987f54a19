import { rowDrawing } from '#sim/chart/row-drawing.ts';
import { rowScene, type RowTable } from '#sim/chart/row-scene.ts';
import { expect, test } from 'vitest';

/** A table of one row with so many readings, made by hand. */
function table(count: number): RowTable {
  const names = Array.from({ length: count }, (_, index) => `reading${index + 1}`);
  return {
    rows: [{ label: 'R1 390 kΩ', look: 'plain', values: names.map((_, index) => index + 1) }],
    readings: names.map((name) => ({ name, unit: 's', mark: null, allowed: null })),
  };
}

test('a table of more readings than there is room for says which are not drawn', () => {
  const scene = rowScene(table(6), 700);
  if (scene === undefined) throw new Error('there must be a scene');
  expect(scene.panels.map(({ name }) => name)).toEqual(['reading1', 'reading2', 'reading3', 'reading4']);
  expect(scene.leftOut).toEqual(['reading5', 'reading6']);
  expect(JSON.stringify(rowDrawing(scene))).toContain('no room for reading5, reading6');
});

test('a table for which there is room leaves nothing out', () => {
  const scene = rowScene(table(4), 700);
  expect(scene?.leftOut).toEqual([]);
  expect(JSON.stringify(scene && rowDrawing(scene))).not.toContain('no room');
});
