import { formatQuantity, typedQuantity, type Unit, withMinus } from '@two-thirds/sim/quantity';

/** What a number that can be turned is: a quantity of a unit, a share either way, a plain number, a whole number. */
export type Measure = Unit | 'tolerance' | 'number' | 'count';

/** How a number is written for people, exactly. @param limitless the word for infinity. */
export function measureText(value: number, measure: Measure, limitless: string): string {
  if (value === Infinity) return limitless;
  if (measure === 'number' || measure === 'count') return withMinus(String(value));
  return formatQuantity(value, measure === 'tolerance' ? 'share' : measure, { exact: true });
}

/** The same as it is typed into a field and written into a document. */
export function writtenMeasure(value: number, measure: Measure, limitless: string): string {
  if (value === Infinity) return limitless;
  if (measure === 'number' || measure === 'count') return String(value);
  return typedQuantity(value, measure === 'tolerance' ? 'share' : measure);
}
