import type { CaptureResult } from '../document/index.ts';
import { captureDrawing } from './capture-drawing.ts';
import { captureScene } from './capture-scene.ts';
import { legend } from './legend.ts';
import { captureLook, studyLook } from './look.ts';
import { line, path, rect } from './shape.ts';
import type { Picture } from './svg-file.ts';

/** A measurement over its prediction; undefined where there is no sample. */
export function capturePicture(result: CaptureResult, width: number): Picture | undefined {
  const scene = captureScene(result, width);
  if (scene === undefined) return undefined;
  const hasStems = scene.edges !== undefined;
  const hasNoise = scene.lanes.some(({ noise }) => noise !== undefined);
  const below = legend(
    [
      { sample: [line('measured', [0, 0], [26, 0])], width: 26, words: 'measured' },
      { sample: [line('predicted', [0, 0], [26, 0])], width: 26, words: 'predicted' },
      ...(hasNoise
        ? [
            {
              sample: [rect('noise', { x: 0, y: -6, width: 22, height: 12 })],
              width: 22,
              words: 'noise of the measurement',
            },
          ]
        : []),
      ...(hasStems
        ? [{ sample: [path('head', 'M2 3h8l-4 -7z')], width: 12, words: 'an edge, predicted less measured' }]
        : []),
    ],
    scene.height + 4,
    width,
  );
  const nets = result.nets.map(({ net }) => net).join(', ');
  return {
    width,
    height: scene.height + 4 + below.height,
    title: `${nets} of ${result.board}, measured and predicted`,
    description: Object.values(result.sentences).flat().join(' '),
    looks: [studyLook, captureLook],
    drawing: [...captureDrawing(scene), ...below.drawing],
  };
}
