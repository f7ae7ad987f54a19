import { seriesDot, sweepLook, type SweepScene, type SweepStop } from '@two-thirds/sim/chart';
import { nothing, svg, type SVGTemplateResult } from 'lit';
import { chartLook } from './chart-look.ts';
import { drawn } from './drawn.ts';

/** Lines, marks and strips of a sweep; every ink has a dash and a shape of its own. */
export const sweepStyles = chartLook(sweepLook);

/** The cursor at a stop: a line, and the shape of every reading where it is. */
export function sweepCursor(scene: SweepScene, stop: SweepStop | undefined): SVGTemplateResult | typeof nothing {
  if (stop === undefined) return nothing;
  const x = scene.x.scale(stop.x);
  const top = scene.strips[0]?.top ?? scene.panels[0]?.top ?? 0;
  const dots = scene.panels.flatMap(({ lines, axis }) =>
    lines.map(({ index }) => {
      const value = stop.values[index] ?? null;
      return value === null ? undefined : seriesDot(index, x, axis.scale(value), 'pointed');
    }),
  );
  return svg`<line class="cursor" x1=${x} x2=${x} y1=${top - 3} y2=${scene.foot + 6} /> ${drawn(dots)}`;
}
