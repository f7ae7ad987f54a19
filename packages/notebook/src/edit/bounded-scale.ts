import type { KnobScale } from './knob-scale.ts';

/** How far a value may lie, SI units. */
export interface KnobBounds {
  readonly least?: number | undefined;
  readonly greatest?: number | undefined;
  /** A value that it must lie above, or below. */
  readonly above?: number | undefined;
  readonly below?: number | undefined;
}

/** A scale that stops at bounds: at least and greatest themselves, before what it must lie above or below. */
export function bounded(scale: KnobScale, { least, greatest, above, below }: KnobBounds): KnobScale {
  const low = Math.max(scale.least, least ?? -Infinity, above === undefined ? -Infinity : scale.step(above, 1));
  const high = Math.min(scale.greatest, greatest ?? Infinity, below === undefined ? Infinity : scale.step(below, -1));
  const isWhole = low === scale.least && high === scale.greatest;
  // Bounds without room between them tell nothing of where to stop; the document check says what is wrong with them.
  if (isWhole || low > high) return scale;
  const inside = (value: number): number => Math.min(high, Math.max(low, value));
  return {
    ...scale,
    least: low,
    greatest: high,
    snap: (value) => inside(scale.snap(value)),
    step: (value, steps) => inside(scale.step(value, steps)),
    at: (position) => inside(scale.at(position)),
    rests: (from, until) => scale.rests(inside(from), inside(until)).filter((each) => each === inside(each)),
  };
}
