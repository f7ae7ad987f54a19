import type { Fate } from '../document/index.ts';
import { type FateMark, fates } from './fate-marks.ts';
import { type Box, boxes, type Drawing, path, rect, shape, text } from './shape.ts';
import { MARK_HEIGHT } from './strip-lane.ts';

/** The stripes of pulses that held the output; once in every drawing that has marks. */
export const stripePattern = shape('defs', {}, [
  shape(
    'pattern',
    { id: 'stripes', width: 5, height: 5, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
    [rect('stripe-ground', { x: 0, y: 0, width: 5, height: 5 }), rect('stripe', { x: 0, y: 0, width: 2.4, height: 5 })],
  ),
]);

/** Room that a count needs inside a joined mark (pixels). */
const COUNT_ROOM = 26;

/** A mark that the next one covers is seen at least this wide (pixels): its outline. */
const OUTLINE = 2.6;

/** A mark of one pulse, or of several alike: started solid, ignored hollow, held striped, short half high, barred crossed. */
export function fateDrawing(mark: FateMark, top: number): Drawing {
  return fatesDrawing([mark], top);
}

/**
 * Marks of pulses in a row, one element for each fate. Where marks run into each other, each is drawn up to where the next
 * one begins, so that none covers another.
 *
 * @param top upper edge of the row (pixels).
 */
export function fatesDrawing(marks: readonly FateMark[], top: number): Drawing {
  const rows = new Map<Fate, Box[]>(fates.map((fate) => [fate, []]));
  marks.forEach(({ fate, x, width }, index) => {
    const room = (marks[index + 1]?.x ?? Infinity) - x;
    const seen = Math.min(width, Math.max(OUTLINE, room));
    const height = heightOf(fate);
    const y = top + MARK_HEIGHT - height + 0.8;
    rows.get(fate)?.push({ x: x + 0.8, y, width: Math.max(1, seen - 1.6), height: height - 1.6 });
  });
  return [
    ...[...rows].map(([fate, row]) => boxes(`fate ${fate}`, row)),
    ...marks.flatMap((mark) => additions(mark, top)),
  ];
}

function heightOf(fate: Fate): number {
  return fate === 'short' ? MARK_HEIGHT / 2 : MARK_HEIGHT;
}

const NOTHING: Drawing = [];

/** What is drawn upon a mark: the cross of barred pulses, the count of several. */
function additions({ x, width, fate, count }: FateMark, top: number): Drawing {
  const isCounted = count > 1 && width > COUNT_ROOM && fate !== 'held';
  if (!isCounted && fate !== 'barred') return NOTHING;
  const height = heightOf(fate);
  const y = top + MARK_HEIGHT - height;
  const middle = x + width / 2;
  const cross = `M${middle - 6} ${y + 4}l12 ${height - 8}m0 ${8 - height}l-12 ${height - 8}`;
  return [
    fate === 'barred' ? path('cross', cross) : undefined,
    isCounted ? text('fate-count', [middle, y + height / 2 + 4.5], String(count)) : undefined,
  ].filter((each) => each !== undefined);
}
