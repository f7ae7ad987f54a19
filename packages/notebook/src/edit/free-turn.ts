import type { KnobScale } from './knob-scale.ts';
import type { Measure } from './measure.ts';

/** One key press turns a free value by this share of itself. */
const FREE_STEP = 0.01;

/** So many values further than an arrow key does a Page key turn, freely or along the resting values. */
export const FAR_TURN = 10;

/** Whether a knob at this value can stand beside its resting values: whole numbers have nothing in between, and the ends beyond all numbers nothing around them. */
export function canTurnFreely(measure: Measure, value: number): boolean {
  return measure !== 'count' && value !== 0 && value !== Infinity;
}

/** One small turn away from a value, or several, without resting on preferred values. */
export function freeTurn(scale: KnobScale, from: number, turns: number): number {
  const size = scale.law === 'ratio' ? from * FREE_STEP : Math.abs(scale.at(scale.position(0) + 1)) / 10;
  return inDigits(Math.min(scale.greatest, Math.max(scale.least, from + turns * size)), 4);
}

/** The value nearest to this one that so many digits tell. */
export function inDigits(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}
