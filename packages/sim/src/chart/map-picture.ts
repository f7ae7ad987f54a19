import type { MapResult } from '../document/index.ts';
import { spokenName } from '../quantity/index.ts';
import { legend, type LegendEntry } from './legend.ts';
import { mapLook, patternLook, rampLook, studyLook } from './look.ts';
import { fillOf, mapDrawing, nowRing, rampBar } from './map-drawing.ts';
import { type MapScene, mapScene, nowPlace } from './map-scene.ts';
import { pointText } from './point-text.ts';
import { path, rect } from './shape.ts';
import type { Picture } from './svg-file.ts';

const RAMP_WIDTH = 200;
const LEGEND_DIGITS = 3;

/** What a legend says of boundaries as they were. */
export const FORMER_BOUNDARIES = 'boundaries before the last change';

/**
 * A map with what its colours mean; undefined where there are no two points along each axis.
 *
 * @param formerOf where boundaries were before, as path data, in the scene it is given.
 */
export function mapPicture(
  result: MapResult,
  width: number,
  formerOf: (scene: MapScene) => readonly string[] = () => [],
): Picture | undefined {
  if (result.x.length < 2 || result.y.length < 2) return undefined;
  const scene = mapScene(result, width);
  const now = nowPlace(result, scene);
  const former = formerOf(scene);
  const below = legend(entries(result, scene, former.length > 0, now !== undefined), scene.height + 6, width);
  return {
    width,
    height: scene.height + 6 + below.height,
    title: `Map of ${result.name} of ${result.board} over ${spokenName(result.vary.x.value)} and ${spokenName(result.vary.y.value)}`,
    description: result.sentence,
    looks: [studyLook, patternLook, mapLook, rampLook((of) => of('light'))],
    drawing: [...mapDrawing(scene, former), ...nowRing(now), ...below.drawing],
  };
}

function entries(
  { name, unit }: MapResult,
  scene: MapScene,
  isFormerShown: boolean,
  isNowShown: boolean,
): LegendEntry[] {
  const { classes } = scene;
  const [least, most] = classes.span;
  const text = (value: number): string => pointText(value, unit, LEGEND_DIGITS);
  const isScale = !classes.isNamed && Number.isFinite(least);
  const factor = classes.isByRatio ? ', each colour by the same factor' : '';
  return [
    isScale
      ? {
          sample: rampBar(0, -7, RAMP_WIDTH, 14),
          width: RAMP_WIDTH,
          words: `${name} from ${text(least)} to ${text(most)}${factor}`,
        }
      : { sample: [], width: 0, words: `${name}:` },
    ...classes.legend.map(({ value, text: words }) => ({
      sample: [rect(`swatch ${fillOf(scene, value)}`, { x: 0, y: -7, width: 22, height: 14 })],
      width: 22,
      words,
    })),
    ...(isFormerShown ? [{ sample: [path('former', 'M1 0H25')], width: 26, words: FORMER_BOUNDARIES }] : []),
    ...(isNowShown ? [{ sample: nowRing([8, 0]), width: 18, words: 'the board as it stands' }] : []),
  ];
}
