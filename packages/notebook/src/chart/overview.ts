import { type Bar, barsOf, envelopePath, highSpans, linearScale, type Scale } from '@two-thirds/sim/chart';
import type { TraceResult } from '@two-thirds/sim/document';

/** The whole run in a narrow strip: its first voltage or current as a line, the output of its first timer as bars. */
export interface OverviewScene {
  readonly height: number;
  /** Path data; empty where the trace has no analog lane. */
  readonly line: string;
  readonly bars: readonly Bar[];
  /** Seconds to pixels. */
  readonly x: Scale;
}

const HEIGHT = 34;
/** Room above and below the line (pixels); below it stand the bars. */
const ABOVE = 4;
const BELOW = 11;

/** Lays the overview of a trace out between two pixels. */
export function overviewScene(trace: TraceResult, left: number, right: number): OverviewScene {
  const x = linearScale(trace.from, trace.until, left, right);
  const lane = trace.lanes.find(({ role }) => role === 'analog');
  const low = (lane?.low ?? []).reduce((least, value) => Math.min(least, value), 0);
  const high = (lane?.high ?? []).reduce((most, value) => Math.max(most, value), 0);
  const y = linearScale(low, high, HEIGHT - BELOW, ABOVE);
  const output = trace.timers[0]?.output;
  return {
    height: HEIGHT,
    line: lane === undefined ? '' : envelopePath(lane, y, left, right),
    bars: output === undefined ? [] : barsOf(highSpans(trace, output), x, { left, right }),
    x,
  };
}
