import { mapRaster, NOTHING } from '#sim/chart/map-raster.ts';
import { innerPlaces, rasterShapes } from '#sim/chart/raster-shapes.ts';
import { describe, expect, test } from 'vitest';

/** Rows of a raster as text, one character a pixel. */
function rowsOf(raster: Int16Array, width: number): string[] {
  const text = [...raster].map((value) => (value === NOTHING ? '.' : String(value))).join('');
  return text.match(new RegExp(`.{${width}}`, 'g')) ?? [];
}

/** Two columns and two rows of points at the corners of a plot of 8 by 4 pixels. */
const corners = { width: 8, height: 4, columns: [0, 8], rows: [0, 4] };

describe('mapRaster', () => {
  test('without boundaries every pixel has the class of the nearest point', () => {
    const classes = [
      [1, 2],
      [3, NOTHING],
    ];
    const raster = mapRaster({ ...corners, classAt: (column, row) => classes[row]?.[column] ?? 9, lines: [] });
    expect(rowsOf(raster, 8)).toEqual(['11112222', '11112222', '3333....', '3333....']);
  });

  test('a boundary divides exactly where it is, not half way between points', () => {
    const line = {
      points: [
        [6, 0],
        [6, 4],
      ] as const,
      between: [1, 2] as const,
    };
    const raster = mapRaster({ ...corners, classAt: (column) => column + 1, lines: [line] });
    expect(rowsOf(raster, 8)).toEqual(['11111122', '11111122', '11111122', '11111122']);
  });

  test('a slanting boundary divides along its slant', () => {
    const line = {
      points: [
        [2, 0],
        [6, 4],
      ] as const,
      between: [1, 2] as const,
    };
    const raster = mapRaster({ ...corners, classAt: (column) => column + 1, lines: [line] });
    expect(rowsOf(raster, 8).map((row) => row.lastIndexOf('1'))).toEqual([1, 2, 3, 4]);
  });

  test('a strip between two boundaries that the grid steps over has what both of them name', () => {
    const upright = (x: number, between: readonly [number, number]) => ({
      points: [
        [x, 0],
        [x, 4],
      ] as const,
      between,
    });
    const raster = mapRaster({
      ...corners,
      classAt: (column) => column + 1,
      lines: [upright(3, [1, 5]), upright(5, [2, 5])],
    });
    expect(rowsOf(raster, 8)).toEqual(['11155222', '11155222', '11155222', '11155222']);
  });

  test('where the other side of a boundary is a third region, a strip is what has no number of its two sides', () => {
    const box = [
      [2, 1],
      [6, 1],
      [6, 3],
      [2, 3],
      [2, 1],
    ] as const;
    const uneven = 1000;
    const raster = mapRaster({ ...corners, classAt: () => 7, lines: [{ points: box, between: [4, uneven] }] });
    expect([...new Set(raster)].sort((a, b) => a - b)).toEqual([7, uneven]);
  });
});

describe('rasterShapes', () => {
  test('covers every pixel that is known once, in rectangles as high as equal rows reach', () => {
    const raster = Int16Array.from([1, 1, 2, 1, 1, 2, 2, 2, NOTHING]);
    expect(rasterShapes(raster, 3)).toEqual([
      { value: 1, path: 'M0 0H2V2H0Z' },
      { value: 2, path: 'M2 0H3V2H2ZM0 2H2V3H0Z' },
    ]);
  });
});

describe('innerPlaces', () => {
  test('finds the middle of a region and how much room there is', () => {
    const raster = new Int16Array(9 * 9).fill(4);
    const [place] = innerPlaces(raster, 9);
    expect(place).toMatchObject({ value: 4, x: 4.5, y: 4.5 });
    // From the middle of the middle pixel it is four and a half pixels to the edge.
    expect(place?.room).toBeCloseTo(4.5, 5);
  });

  test('has one place for each class and none for what is not known', () => {
    const raster = Int16Array.from([7, 7, NOTHING, 3, 3, NOTHING]);
    expect(innerPlaces(raster, 6).map(({ value }) => value)).toEqual([3, 7]);
  });
});
