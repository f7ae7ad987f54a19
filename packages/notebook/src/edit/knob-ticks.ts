import type { KnobScale } from './knob-scale.ts';
import { type Measure, measureText } from './measure.ts';

/** A resting value on the tape of a knob; the ones people look for carry a label. */
export interface KnobTick {
  readonly value: number;
  readonly label?: string;
}

/** Mantissas that are labelled on a tape by ratio: those of E3 (IEC 60063) for parts, round numbers for all else. */
const labelledParts = new Set(['1', '2.2', '4.7']);
const labelledOthers = new Set(['1', '2', '5']);
/** What is sold by preferred values. */
const parts: readonly Measure[] = ['Ω', 'F', 'H'];
/** On an even tape every so many steps carry a label. */
const LABELLED_STEP = 4;

/** The ticks of a tape between two values, ascending. @param limitless the word for infinity. */
export function knobTicks(
  scale: KnobScale,
  measure: Measure,
  from: number,
  until: number,
  limitless: string,
): KnobTick[] {
  const labelled = parts.includes(measure) ? labelledParts : labelledOthers;
  const isLabelled = (value: number): boolean => {
    if (value === 0 || value === Infinity) return true;
    return scale.law === 'ratio' ? labelled.has(mantissa(value)) : isLabelledStep(scale.position(value));
  };
  return scale
    .rests(from, until)
    .map((value) => (isLabelled(value) ? { value, label: measureText(value, measure, limitless) } : { value }));
}

function mantissa(value: number): string {
  return String(Number(value.toExponential(11).split('e')[0] ?? ''));
}

function isLabelledStep(position: number): boolean {
  return Math.abs(position / LABELLED_STEP - Math.round(position / LABELLED_STEP)) < 1e-6;
}
