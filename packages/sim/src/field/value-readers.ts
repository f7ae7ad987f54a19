import { foundText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import { formatQuantity, readQuantity, readTolerance, type Unit } from '../quantity/index.ts';
import { type FieldReader, fault } from './field-reader.ts';

/** Limits of a quantity, in the SI unit. Give at most one lower and one upper limit. */
export interface Range {
  readonly atLeast?: number;
  readonly above?: number;
  readonly atMost?: number;
  readonly below?: number;
  /** A word that stands for infinity where there is no limit, for example `none`. Without it, values are finite. */
  readonly word?: string;
}

/** Reads a quantity of one unit within a range into a number in the SI unit. */
export function quantity(unit: Unit, range: Range = {}): FieldReader {
  const rule = rangeRule(unit, range);
  return (input) => {
    const { word } = range;
    if (word !== undefined && (input === word || input === Number.POSITIVE_INFINITY)) {
      return { ok: true, value: Number.POSITIVE_INFINITY };
    }
    const read = readQuantity(input, unit);
    const orWord = word === undefined ? '' : ` Or write "${word}".`;
    if (!read.ok) return fault(read.message + orWord);
    if (isWithin(read.value, range)) return read;
    const got = formatQuantity(read.value, unit, { exact: true });
    return fault(`must ${rule}; got ${got}. Choose a value in that range.${orWord}`);
  };
}

/**
 * Least resistance but none (Ω) and least capacitance (F): far below whatever exists, and far above the end of numbers,
 * where products of the two would be lost.
 */
const LEAST_RESISTANCE = 1e-9;
const LEAST_CAPACITANCE = 1e-15;

/** Reads a resistance into ohms: none, or one that can be computed with. */
export function anyResistance(): FieldReader {
  return notTooSmall('Ω', { atLeast: 0 }, LEAST_RESISTANCE, '0 Ω or at least', 'Write 0 Ω for a plain connection.');
}

/** Reads a capacitance into farads, one that can be computed with. */
export function anyCapacitance(): FieldReader {
  return notTooSmall('F', { above: 0 }, LEAST_CAPACITANCE, 'at least', 'Leave the capacitor out.');
}

function notTooSmall(unit: Unit, range: Range, least: number, rule: string, advice: string): FieldReader {
  const any = quantity(unit, range);
  return (input) => {
    const read = any(input);
    if (!read.ok || read.value === 0 || (read.value as number) >= least) return read;
    const [got, limit] = [read.value as number, least].map((value) => formatQuantity(value, unit, { exact: true }));
    return fault(`must be ${rule} ${limit}; got ${got}. ${advice}`);
  };
}

/** Reads one of a few words. */
export function choice(words: readonly string[]): FieldReader {
  const read: FieldReader = (input) => {
    if (typeof input === 'string' && words.includes(input)) return { ok: true, value: input };
    const near = typeof input === 'string' ? nearestName(input, words) : undefined;
    const advice = near === undefined ? 'Choose one of these.' : `Did you mean ${near}?`;
    return fault(`must be one of ${words.join(', ')}; got ${foundText(input)}. ${advice}`);
  };
  return Object.assign(read, { words });
}

/** Reads true or false. */
export function flag(): FieldReader {
  const read: FieldReader = (input) => {
    if (typeof input === 'boolean') return { ok: true, value: input };
    return fault(`must be true or false; got ${foundText(input)}. Write it without quotes.`);
  };
  return Object.assign(read, { words: ['true', 'false'] });
}

/** Reads a number without a unit, above 0 and up to a largest one. */
export function ratio(largest: number): FieldReader {
  return (input) => {
    if (typeof input === 'number' && input > 0 && input <= largest) return { ok: true, value: input };
    return fault(`must be a number above 0 and at most ${largest}; got ${foundText(input)}. Write for example 100.`);
  };
}

/** Reads a whole number from 0 to a largest one. */
export function wholeNumber(largest: number): FieldReader {
  return (input) => {
    if (typeof input === 'number' && Number.isInteger(input) && input >= 0 && input <= largest) {
      return { ok: true, value: input };
    }
    return fault(`must be a whole number from 0 to ${largest}; got ${foundText(input)}. Write for example 1.`);
  };
}

/** Reads a tolerance that is the same both ways into a share of the value, from 0 to below 1. */
export function tolerance(): FieldReader {
  return (input) => {
    const read = readTolerance(input);
    return read.ok ? read : fault(read.message);
  };
}

function isWithin(value: number, range: Range): boolean {
  const { atLeast = -Infinity, above = -Infinity, atMost = Infinity, below = Infinity } = range;
  return value >= atLeast && value > above && value <= atMost && value < below;
}

/** The range as it reads after "must", for example `be above 0 s and at most 1 s`. */
function rangeRule(unit: Unit, range: Range): string {
  const text = (value: number) => formatQuantity(value, unit, { exact: true });
  const limits: string[] = [];
  if (range.atLeast !== undefined) limits.push(`at least ${text(range.atLeast)}`);
  if (range.above !== undefined) limits.push(`above ${text(range.above)}`);
  if (range.atMost !== undefined) limits.push(`at most ${text(range.atMost)}`);
  if (range.below !== undefined) limits.push(`below ${text(range.below)}`);
  return `be ${limits.join(' and ')}`;
}
