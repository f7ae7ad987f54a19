import { rect, shape } from './shape.ts';

/** Fills of places without one value; once in every drawing that has some. */
export const studyPatterns = shape('defs', {}, [
  shape(
    'pattern',
    { id: 'uneven', width: 6, height: 6, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
    [
      rect('uneven-ground', { x: 0, y: 0, width: 6, height: 6 }),
      rect('uneven-line', { x: 0, y: 0, width: 2.2, height: 6 }),
    ],
  ),
  shape('pattern', { id: 'without', width: 7, height: 7, patternUnits: 'userSpaceOnUse' }, [
    rect('without-ground', { x: 0, y: 0, width: 7, height: 7 }),
    shape('circle', { class: 'without-dot', cx: 3.5, cy: 3.5, r: 0.9 }),
  ]),
]);
