import { legend, type LegendEntry } from './legend.ts';
import { rowLook, studyLook } from './look.ts';
import { rowDrawing, rowMark } from './row-drawing.ts';
import { type RowLook, rowScene, type RowTable } from './row-scene.ts';
import { line, rect } from './shape.ts';
import type { Picture } from './svg-file.ts';

/** What a table is called, and what its looks say. */
export interface RowWords {
  readonly title: string;
  readonly description: string;
  /** What each look says; looks without words are not in the legend. */
  readonly looks: Readonly<Partial<Record<RowLook, string>>>;
  /** What the line of `mark` says. */
  readonly mark: string;
}

const GAP = 10;

/** A table of readings as a picture of dots; undefined where no row has a value. */
export function rowPicture(table: RowTable, words: RowWords, width: number): Picture | undefined {
  const scene = rowScene(table, width);
  if (scene === undefined) return undefined;
  const below = legend(entries(table, words), scene.height + GAP, width);
  return {
    width,
    height: scene.height + GAP + below.height,
    title: words.title,
    description: words.description,
    looks: [studyLook, rowLook],
    drawing: [...rowDrawing(scene), ...below.drawing],
  };
}

function entries({ rows, readings }: RowTable, { looks, mark }: RowWords): LegendEntry[] {
  const met = new Set(rows.map(({ look }) => look));
  const ofLooks = (['good', 'plain', 'same', 'harm'] as const).flatMap((look): LegendEntry[] => {
    const said = looks[look];
    return said === undefined || !met.has(look) ? [] : [{ sample: [rowMark(look, [5, 0])], width: 10, words: said }];
  });
  const marked = readings.some((reading) => reading.mark !== null);
  const allowed = readings.some((reading) => reading.allowed !== null);
  return [
    ...ofLooks,
    ...(marked ? [{ sample: [line('now-line', [6, -8], [6, 8])], width: 12, words: mark }] : []),
    ...(allowed
      ? [{ sample: [rect('allowed', { x: 0, y: -7, width: 22, height: 14 })], width: 22, words: 'what is allowed' }]
      : []),
  ];
}
