import type { ReadingName } from '../measure/reading-names.ts';
import type { Unit } from '../quantity/index.ts';

const unitsOfReadings: Readonly<Record<ReadingName, Unit | null | 'list'>> = {
  width: 's',
  low: 's',
  period: 's',
  frequency: 'Hz',
  duty: 'share',
  count: null,
  ratio: null,
  delay: 's',
  first: 's',
  level: 'V',
  peak: 'V',
  trough: 'V',
  mean: 'V',
  current: 'A',
  peak_current: 'A',
  power: 'W',
  light: 'share',
  widths: 'list',
  lows: 'list',
  periods: 'list',
  edges: 'list',
};

/**
 * The unit of what a reading gives, known before anything is run: null for counts and ratios, `list` for readings that
 * give several numbers, `undefined` for a text that is no reading.
 */
export function readingUnit(text: unknown): Unit | null | 'list' | undefined {
  const name = typeof text === 'string' ? /^\s*([a-z_]{1,20})\s*\(/.exec(text)?.[1] : undefined;
  if (name === undefined || !Object.hasOwn(unitsOfReadings, name)) return undefined;
  return unitsOfReadings[name as ReadingName];
}
