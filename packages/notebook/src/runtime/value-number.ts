import { readQuantity, readTolerance, typedQuantity, type Unit } from '@two-thirds/sim/quantity';
import type { Json } from '../edit/json.ts';
import type { Measure } from '../edit/measure.ts';

/** The words for infinity that quantities and counts take. */
const LIMITLESS: readonly string[] = ['none', 'unlimited', 'endless'];

/** The number that a value of a document stands for, SI units; `undefined` where it cannot be read as what it is. */
export function readNumber(value: Json, measure: Measure | undefined): number | undefined {
  if (measure === undefined) return undefined;
  if (typeof value === 'string' && LIMITLESS.includes(value)) return Infinity;
  if (measure === 'number' || measure === 'count') return typeof value === 'number' ? value : undefined;
  const result = measure === 'tolerance' ? readTolerance(value) : readQuantity(value, measure);
  return result.ok ? result.value : undefined;
}

/** A value of a document as it is edited: text as it stands, a plain number with its unit. */
export function numberText(value: Json, unit: Unit | undefined): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'number' && unit !== undefined) return typedQuantity(value, unit);
  return JSON.stringify(value);
}
