import { formatQuantity, type Unit } from '@two-thirds/sim/quantity';
import type { KnobScale } from './knob-scale.ts';

/** A resting value on the tape of a knob; the ones people look for carry a label. */
export interface KnobTick {
  readonly value: number;
  readonly label?: string;
}

/** Mantissas that are labelled on a tape by ratio: those of E3 (IEC 60063) for parts, round numbers for times. */
const labelledParts = new Set(['1', '2.2', '4.7']);
const labelledTimes = new Set(['1', '2', '5']);
/** On an even tape every so many steps carry a label. */
const LABELLED_STEP = 4;

/** The ticks of a tape between two values, ascending. */
export function knobTicks(scale: KnobScale, unit: Unit, from: number, until: number): KnobTick[] {
  const labelled = unit === 's' || unit === 'Hz' ? labelledTimes : labelledParts;
  return scale.rests(from, until).map((value) => {
    const shown = scale.law === 'ratio' ? labelled.has(mantissa(value)) : isLabelledStep(scale.position(value));
    return shown ? { value, label: formatQuantity(value, unit, { exact: true }) } : { value };
  });
}

function mantissa(value: number): string {
  return String(Number(value.toExponential(11).split('e')[0] ?? ''));
}

function isLabelledStep(position: number): boolean {
  return Math.abs(position / LABELLED_STEP - Math.round(position / LABELLED_STEP)) < 1e-6;
}
