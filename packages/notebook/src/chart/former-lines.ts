import { envelopePath, type Scene } from '@two-thirds/sim/chart';
import type { SignalLane, TraceResult } from '@two-thirds/sim/document';
import { dashedPath } from './dashed-path.ts';

type AnalogLane = Extract<Scene['lanes'][number], { readonly kind: 'analog' }>;

/** Places that differ by less than this share of themselves are drawn alike: pixels are told in hundredths. */
const SAME = 1e-6;

/** A line as it would lie over a lane, for as long as lane and axis of time stay where they are. */
interface LaidOver {
  /** What it was laid out for. */
  readonly places: readonly number[];
  /** The whole line, which tells whether it is another than what is drawn now; undefined where it would leave the lane. */
  readonly line: string | undefined;
  readonly dashed: string;
}

/**
 * The lines that a trace had before, laid over the lanes of scenes as path data. While a knob is turned what was before
 * stays the same, and so do its lines.
 */
export class FormerLines {
  private readonly kept = new WeakMap<SignalLane, LaidOver>();

  /**
   * The lines over a scene. A lane whose line is as before has none, and neither has one whose line would leave it: its
   * axis belongs to what is drawn now.
   */
  over(scene: Scene, former: TraceResult): string[] {
    const [start, end] = [scene.x(former.from), scene.x(former.until)];
    return scene.lanes.flatMap((lane) => {
      if (lane.kind !== 'analog') return [];
      const old = former.lanes.find(({ show, role }) => show === lane.show && role !== 'contact');
      if (old === undefined || old.role === 'contact') return [];
      const { line, dashed } = this.laidOver(old, lane, scene, start, end);
      return line === undefined || line === lane.path ? [] : [dashed];
    });
  }

  private laidOver(
    old: SignalLane,
    { y, top, bottom }: AnalogLane,
    { left, right }: Scene,
    start: number,
    end: number,
  ): LaidOver {
    const places = [top, bottom, y.invert(top), y.invert(bottom), left, right, start, end];
    const kept = this.kept.get(old);
    if (kept !== undefined && places.every((place, index) => isSame(place, kept.places[index] ?? Number.NaN)))
      return kept;
    const plot = { left, right };
    const laid = fits(old, y.invert(bottom), y.invert(top))
      ? { places, line: envelopePath(old, y, start, end, plot), dashed: dashedPath(old, y, start, end, plot) }
      : { places, line: undefined, dashed: '' };
    this.kept.set(old, laid);
    return laid;
  }
}

/** Whether two places are the same but for rounding: a peak at its limit is not the same to the last bit with every turn. */
function isSame(one: number, other: number): boolean {
  return Math.abs(one - other) <= SAME * Math.max(1, Math.abs(one));
}

function fits({ low, high }: SignalLane, least: number, most: number): boolean {
  return low.every((value) => value >= least) && high.every((value) => value <= most);
}
