import type { TraceResult } from '../document/index.ts';
import { formatQuantity } from '../quantity/index.ts';
import { fateDrawing } from './fate-drawing.ts';
import { fates, fateWords } from './fate-marks.ts';
import { legend, type LegendEntry } from './legend.ts';
import { fateLook, traceLook } from './look.ts';
import { MARK_HEIGHT } from './strip-lane.ts';
import type { Picture } from './svg-file.ts';
import { laneName, lanesDrawing } from './trace-drawing.ts';
import { traceScene } from './trace-scene.ts';

/** A trace with its names and what the marks of pulses mean. */
export function tracePicture(trace: TraceResult, width: number): Picture {
  const scene = traceScene(trace, width);
  const names = scene.lanes.flatMap((lane) => laneName(lane, scene));
  const below = legend(fateEntries(trace, scene), scene.height + 4, width);
  const shown = trace.lanes.map(({ show }) => show).join(', ');
  const window = `from ${formatQuantity(trace.from, 's')} to ${formatQuantity(trace.until, 's')}`;
  const counts = trace.timers.map(({ timer, counts: of }) => {
    const told = fates.filter((fate) => of[fate] > 0).map((fate) => `${of[fate]} ${fate}`);
    return ` Pulses at ${timer}: ${told.length === 0 ? 'none' : told.join(', ')}.`;
  });
  return {
    width,
    height: scene.height + below.height,
    title: `${shown} of ${trace.board} over time`,
    description: `${shown} of ${trace.board} ${window}.${counts.join('')}`,
    looks: [fateLook, traceLook],
    drawing: [...lanesDrawing(scene), ...names, ...below.drawing],
  };
}

/** The fates that occur, with how many pulses each has. */
function fateEntries({ timers }: TraceResult, { lanes }: ReturnType<typeof traceScene>): LegendEntry[] {
  return lanes.flatMap((lane) => {
    if (lane.kind !== 'strip') return [];
    const of = timers.length > 1 ? ` at ${lane.timer}` : '';
    return fates
      .filter((fate) => lane.counts[fate] > 0)
      .map((fate) => ({
        sample: fateDrawing({ fate, x: 0, width: 8, count: 1, first: 0 }, -MARK_HEIGHT / 2),
        width: 8,
        words: `${fateWords[fate]}${of}: ${lane.counts[fate]}`,
      }));
  });
}
