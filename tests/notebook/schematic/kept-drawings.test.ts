import { boardDrawings } from '#notebook/schematic/board-drawings.ts';
import { KeptDrawings } from '#notebook/schematic/kept-drawings.ts';
import type { BoardResult } from '#sim/document/index.ts';
import { expect, test } from 'vitest';
import { partsOf } from './board-parts.ts';

const before = partsOf({ ready: 'monostable' });

/** The parts with another text in a field of one of them. */
function withField(name: string, field: string, text: string): BoardResult['parts'] {
  return before.map((part) =>
    part.name !== name
      ? part
      : { ...part, fields: part.fields.map((each) => (each.name === field ? { ...each, text } : each)) },
  );
}

test('KeptDrawings.of(parts, links) has the values of now, whatever was kept', () => {
  const kept = new KeptDrawings();
  kept.of(before, []);
  for (const parts of [
    withField('R1', 'resistance', '4.7 kΩ'),
    withField('U1', 'family', 'cmos'),
    withField('R1', 'resistance', '4.7123456 kΩ'),
    before.filter(({ name }) => name !== 'D1'),
    before.map((part) => (part.name === 'C1' ? { ...part, nets: { a: 'control', b: 'ground' } } : part)),
  ]) {
    expect(kept.of(parts, [])).toEqual(boardDrawings(parts));
  }
});

test('KeptDrawings.of(parts, links) moves nothing while a value changes within its usual length', () => {
  const kept = new KeptDrawings();
  const places = (parts: BoardResult['parts']) => kept.of(parts, [])[0]?.symbols.map(({ part, x, y }) => [part, x, y]);
  const first = places(before);
  for (const text of ['1 Ω', '680 kΩ', '10 MΩ', '4.7 kΩ'])
    expect(places(withField('R1', 'resistance', text))).toEqual(first);
});
