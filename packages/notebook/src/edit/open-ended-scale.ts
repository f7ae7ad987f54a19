import type { KnobScale } from './knob-scale.ts';

/** How far the end lies beyond the last value on a tape by ratio (decades), and on an even one (steps). */
const BEYOND = { ratio: 0.3, sum: 1 } as const;

/**
 * A scale with one more rest beyond its finite values: 0 below them (`none`), or infinity above (`limit`).
 *
 * @param scale one whose least and greatest value are finite.
 */
export function openEnded(scale: KnobScale, end: 'none' | 'limit'): KnobScale {
  const isNone = end === 'none';
  const beyond = isNone ? 0 : Infinity;
  const last = isNone ? scale.least : scale.greatest;
  const inward = isNone ? 1 : -1;
  const place = scale.position(last) - inward * BEYOND[scale.law];
  const isBeyond = (value: number): boolean => (isNone ? value <= 0 : value === Infinity);
  return {
    law: scale.law,
    least: isNone ? 0 : scale.least,
    greatest: isNone ? scale.greatest : Infinity,
    snap: (value) => (isBeyond(value) ? beyond : scale.snap(value)),
    step: (value, steps) => {
      if (isBeyond(value)) return steps * inward > 0 ? scale.step(last, steps - inward) : beyond;
      return value === last && steps * inward < 0 ? beyond : scale.step(value, steps);
    },
    position: (value) => (isBeyond(value) ? place : scale.position(value)),
    at: (position) => {
      const isOut = inward * (position - (place + scale.position(last)) / 2) < 0;
      return isOut ? beyond : scale.at(position);
    },
    rests: (from, until) => {
      const finite = scale.rests(Math.max(from, scale.least), Math.min(until, scale.greatest));
      if (isNone) return isBeyond(from) ? [beyond, ...finite] : finite;
      return isBeyond(until) ? [...finite, beyond] : finite;
    },
  };
}
