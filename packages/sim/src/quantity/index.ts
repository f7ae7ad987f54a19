export { type FormatOptions, formatQuantity } from './format-quantity.ts';
export { formatLetterCode, type LetterCodeUnit, readLetterCode } from './letter-code.ts';
export { nearestPreferred, preferredBetween, stepPreferred } from './preferred.ts';
export { preferredMantissas, type Series, seriesNames } from './preferred-series.ts';
export { parseQuantity, QuantityError, type QuantityResult, readQuantity } from './read-quantity.ts';
export { percentText } from './percent-text.ts';
export { readTolerance, type Tolerance, toleranceLetter } from './tolerance.ts';
export type { Unit } from './unit.ts';
export { unitPlurals } from './unit-plurals.ts';
