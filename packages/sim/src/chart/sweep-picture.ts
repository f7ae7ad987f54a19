import type { SweepResult } from '../document/index.ts';
import { spokenName } from '../quantity/index.ts';
import { fateDrawing } from './fate-drawing.ts';
import { fates, fateWords } from './fate-marks.ts';
import { legend, type LegendEntry } from './legend.ts';
import { fateLook, patternLook, studyLook, sweepLook } from './look.ts';
import { MARK_HEIGHT } from './strip-lane.ts';
import { nowEntry, unevenEntry } from './study-legend.ts';
import type { Picture } from './svg-file.ts';
import { sweepDrawing } from './sweep-drawing.ts';
import { type SweepScene, sweepScene } from './sweep-scene.ts';

/** A sweep with what its marks mean; undefined where no point is computed yet. */
export function sweepPicture(result: SweepResult, width: number): Picture | undefined {
  if (result.x.length === 0) return undefined;
  const scene = sweepScene(result, width);
  const below = legend(entries(scene), scene.height + 6, width);
  const names = result.series.map(({ name }) => name).join(', ');
  return {
    width,
    height: scene.height + 6 + below.height,
    title: `${names} of ${result.board} over ${spokenName(result.vary.value)}`,
    description: result.sentence,
    looks: [fateLook, studyLook, patternLook, sweepLook],
    drawing: [...sweepDrawing(scene), ...below.drawing],
  };
}

function entries({ strips, now }: SweepScene): LegendEntry[] {
  const regions = strips.flatMap((strip) => strip.regions);
  const drawn = new Set(regions.flatMap(({ pulses, hasRoom }) => (hasRoom ? (pulses ?? []) : [])));
  return [
    ...fates
      .filter((fate) => drawn.has(fate))
      .map((fate) => ({
        sample: fateDrawing({ fate, x: 0, width: 8, count: 1, first: 0 }, -MARK_HEIGHT / 2),
        width: 8,
        words: fateWords[fate],
      })),
    ...(regions.some(({ isUneven }) => isUneven) ? [unevenEntry] : []),
    ...(now === undefined ? [] : [nowEntry]),
  ];
}
