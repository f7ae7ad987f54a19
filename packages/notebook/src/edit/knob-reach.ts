import type { KnobScale } from './knob-scale.ts';

/** How far a knob that turns by ratio goes to either side of where it began: three decades. */
const DECADES = 3;
/** How far one that turns in even steps goes: this many times the value it began with, or steps from 0. */
const TIMES = 4;
const STEPS = 24;

/**
 * Least and greatest value that a knob is turned to, SI units: a stretch around the value it began with that does not
 * change while it is turned, and whatever was typed beyond it.
 *
 * @param nominal the value the knob began with.
 * @param value the value it stands at.
 */
export function knobReach(scale: KnobScale, nominal: number, value: number): { least: number; greatest: number } {
  const [least, greatest] = ends(scale, nominal);
  return { least: Math.min(value, least), greatest: Math.max(value, greatest) };
}

function ends(scale: KnobScale, nominal: number): [number, number] {
  // Scales that begin at none, or without a limit, are made for that.
  const isOpen = nominal === Infinity || (nominal === 0 && scale.law === 'ratio');
  if (isOpen) return [scale.least, scale.greatest];
  if (scale.law === 'ratio') {
    return [scale.snap(nominal / 10 ** DECADES), scale.snap(nominal * 10 ** DECADES)];
  }
  const far = nominal === 0 ? scale.step(0, STEPS) : scale.snap(Math.abs(nominal) * TIMES);
  return [Number.isFinite(scale.least) ? scale.least : -far, Number.isFinite(scale.greatest) ? scale.greatest : far];
}
