import { boardDrawings } from '#notebook/schematic/board-drawings.ts';
import { stateWords } from '#notebook/schematic/state-words.ts';
import { expect, test } from 'vitest';
import { partsOf } from './board-parts.ts';

test('stateWords says what is closed, lit and how high nets are, and nothing of what there is not', () => {
  const [drawing] = boardDrawings(partsOf({ ready: 'monostable' }));
  if (drawing === undefined) throw new Error('a ready board must have a drawing');
  const closed = new Set(['S1']);
  const lamps = [{ part: 'D1', light: 0.5 }] as never;
  const voltages = new Map([['out', '10.7 V']]);
  expect(stateWords(drawing, { closed, lamps, voltages })).toBe(' Closed: S1. Lit: D1. Voltages: out 10.7 V.');
  expect(stateWords(drawing, { closed: new Set(), lamps: [], voltages: new Map() })).toBe(' Open: S1.');
});
