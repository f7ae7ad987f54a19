import { mapPointWords, mapTable } from '#notebook/chart/map-words.ts';
import { describe, expect, test } from 'vitest';
import { map } from '../../support/example-studies.ts';

describe('mapPointWords', () => {
  test.each([
    [0, 0, 'ratio 3', ''],
    [1, 0, 'ratio 3.5 on average', 'Not the same from output to output.'],
    [2, 1, 'no ratio', ''],
  ])('point %i, %i is %s', (column, row, value, more) => {
    expect(mapPointWords(map, column, row)).toMatchObject({ value, more });
  });

  test('a point that is not computed yet says so', () => {
    expect(mapPointWords({ ...map, share: 0.5 }, 2, 1).value).toBe('not computed yet');
  });
});

describe('mapTable', () => {
  test('has the highest row first, as the map has', () => {
    expect(mapTable(map)[0]).toMatchObject({
      columns: ['G1 period', '1\u202fkΩ', '2\u202fkΩ', '3\u202fkΩ'],
      rows: [
        ['200\u202fms', '3', '4', '–'],
        ['100\u202fms', '3', '3.5 on average', '4'],
      ],
    });
  });

  test('points that are another than before the last change say what they were', () => {
    const former = { ...map, z: [map.z[0]!, [4, 4, 5]] };
    expect(mapTable(map, former)[0]?.rows).toEqual([
      ['200\u202fms', '3, was 4', '4', '–, was 5'],
      ['100\u202fms', '3', '3.5 on average', '4'],
    ]);
    expect(mapTable(map, { ...former, asked: 'width(out)' })).toEqual(mapTable(map));
  });
});
