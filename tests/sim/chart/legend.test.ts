import { legend } from '#sim/chart/legend.ts';
import { shapesText } from '#sim/chart/shape.ts';
import { expect, test } from 'vitest';

const entry = { sample: [], width: 20, words: 'ten letters' };

test('legend(entries, top, width) goes on in a new line where there is no room, and is as high as its lines', () => {
  // 20 + 7 + 11 letters of 6.9 = 102.9 pixels each, 22 between them: two fit into 250.
  const one = legend([entry, entry], 100, 250);
  const two = legend([entry, entry, entry], 100, 250);
  expect([legend([], 100, 250).height, one.height, two.height]).toEqual([0, 26, 52]);
  const heights = [...shapesText(two.drawing).matchAll(/ y="(\d+)"/g)].map(([, y]) => Number(y));
  expect(heights).toEqual([117, 117, 143]);
});
