import type { ClaimResult } from '../document/index.ts';
import { claimDrawing } from './claim-drawing.ts';
import { claimScene } from './claim-scene.ts';
import { type Legend, legend, type LegendEntry } from './legend.ts';
import { claimLook, studyLook } from './look.ts';
import { type Drawing, path, shape, text } from './shape.ts';
import { nowEntry } from './study-legend.ts';
import type { Picture } from './svg-file.ts';

const HEADING = 28;
const GAP = 12;

/** How far off a claim is along each of its values that is a number; undefined where there is no error to draw. */
export function claimPicture(result: ClaimResult, width: number): Picture | undefined {
  const verdict = { holds: 'holds', fails: 'fails', open: 'not decided' }[result.verdict];
  const drawing: Drawing[number][] = [
    text('name', [0, 14], [result.says, shape('tspan', { class: 'unit', dx: 14 }, [verdict])]),
  ];
  let top = HEADING;
  for (const course of result.over) {
    const scene = claimScene(course, width, result);
    if (scene === undefined) continue;
    drawing.push(shape('g', { transform: `translate(0 ${top})` }, claimDrawing(scene)));
    top += scene.height + GAP;
  }
  if (top === HEADING) return undefined;
  const below = claimLegend(result, top - GAP, width);
  return {
    width,
    height: top - GAP + below.height,
    title: `${result.relation === '=' ? 'Error' : 'Sides'} of ${result.says} on ${result.board}`,
    description: result.sentence,
    looks: [studyLook, claimLook],
    drawing: [...drawing, ...below.drawing],
  };
}

/** What the marks of a claim mean, laid out from a height on for a width (pixels). */
export function claimLegend(result: ClaimResult, top: number, width: number): Legend {
  return legend(entries(result), top, width);
}

function entries({ over, box }: ClaimResult): LegendEntry[] {
  const verdicts = new Set(over.flatMap((course) => course.verdicts));
  const marks = [
    { verdict: 'holds', words: 'it holds', d: 'M2 0a3 3 0 1 0 6 0a3 3 0 1 0 -6 0z' },
    { verdict: 'fails', words: 'it fails', d: 'M1.5 -3.5l7 7m0 -7l-7 7' },
    { verdict: 'open', words: 'nothing is decided', d: 'M1 0h8' },
  ] as const;
  return [
    ...marks
      .filter(({ verdict }) => verdicts.has(verdict))
      .map(({ verdict, words, d }) => ({ sample: [path(`mark ${verdict}`, d)], width: 10, words })),
    ...(over.some(({ error }) => error.includes(null))
      ? [
          {
            sample: [path('axis-tick', 'M0 0h16'), path('mark fails', 'M4.5 -3.5l7 7m0 -7l-7 7')],
            width: 16,
            words: 'no value',
          },
        ]
      : []),
    ...(box === null
      ? []
      : [{ sample: [path('together', 'M1 5v-5h18v5')], width: 20, words: 'it holds, several changed together' }]),
    ...(over.some(({ now }) => typeof now === 'number') ? [nowEntry] : []),
  ];
}
