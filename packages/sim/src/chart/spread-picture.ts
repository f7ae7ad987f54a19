import type { SpreadReading, SpreadResult } from '../document/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import { histogramScene } from './histogram.ts';
import { legend, type LegendEntry } from './legend.ts';
import { spreadLook, studyLook } from './look.ts';
import { type Drawing, line, rect, shape, text } from './shape.ts';
import { histogramDrawing } from './spread-drawing.ts';
import { nowEntry } from './study-legend.ts';
import type { Picture } from './svg-file.ts';

const HEADING = 24;
const GAP = 14;
/** Values that carry less of the variance than this are not named. */
const LEAST_SHARE = 0.005;

/** The distribution of every reading, one below the other; undefined where no sample has a value. */
export function spreadPicture(result: SpreadResult, width: number): Picture | undefined {
  const drawing: Drawing[number][] = [];
  let top = 0;
  for (const reading of result.readings) {
    const scene = histogramScene(reading, width);
    if (scene === undefined) continue;
    const heading = text(
      'name',
      [0, 14],
      [reading.name, shape('tspan', { class: 'unit', dx: 14 }, [words(result, reading)])],
    );
    drawing.push(
      shape('g', { transform: `translate(0 ${top})` }, [heading]),
      shape('g', { transform: `translate(0 ${top + HEADING})` }, histogramDrawing(scene)),
    );
    top += HEADING + scene.height + GAP;
  }
  if (top === 0) return undefined;
  const below = legend(entries(result), top - GAP, width);
  return {
    width,
    height: top - GAP + below.height,
    title: `Spread of ${result.readings.map(({ name }) => name).join(', ')} of ${result.board}`,
    description: result.sentence,
    looks: [studyLook, spreadLook],
    drawing: [...drawing, ...below.drawing],
  };
}

/** What stands beside the name of a reading: how many samples are inside its limits, and what it follows. */
function words({ parts, samples }: SpreadResult, { limits, missing, variance }: SpreadReading): string {
  const follows = parts
    .map(({ value }, index) => ({ value, share: variance?.shares[index] ?? 0 }))
    .filter(({ share }) => share >= LEAST_SHARE)
    .sort((a, b) => b.share - a.share)
    .map(({ value, share }) => `${value} ${formatQuantity(share, 'share', { digits: 2 })}`);
  return [
    `${samples} samples`,
    ...(missing === 0 ? [] : [`${missing} of them without a value`]),
    ...(limits === null ? [] : [`${formatQuantity(limits.share, 'share')} inside the limits`]),
    ...(follows.length === 0 ? [] : [`it follows ${follows.join(', ')}`]),
  ].join('; ');
}

function entries({ readings }: SpreadResult): LegendEntry[] {
  const sample = (look: string): Drawing => [rect(look, { x: 0, y: -6, width: 12, height: 12 })];
  const hasLimits = readings.some(({ limits }) => limits !== null);
  return [
    { sample: sample('samples'), width: 12, words: hasLimits ? 'samples inside the limits' : 'samples' },
    ...(hasLimits ? [{ sample: sample('samples outside'), width: 12, words: 'outside of them' }] : []),
    { sample: [line('middle', [0, 0], [22, 0])], width: 22, words: 'nine tenths of the samples' },
    ...(readings.some(({ now }) => now !== null) ? [nowEntry] : []),
  ];
}
