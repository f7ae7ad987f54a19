import { formatLetterCode } from './letter-code.ts';
import { prefixExponents } from './prefix.ts';
import { readQuantityText, splitQuantity } from './quantity-text.ts';
import { typedQuantity } from './typed-quantity.ts';
import { type Unit, unitWriting } from './unit.ts';

/** What is wrong with a text that is nearly a quantity, and how it is written. */
export interface Mending {
  /** Full sentences, one for each slip. */
  readonly slips: readonly string[];
  /** The same quantity as it can be read, `4.7 kΩ or 4K7`; absent where it cannot be told what was meant. */
  readonly written?: string;
}

const CAPITALS = 'Capital and small letters count: k is kilo, m milli, M mega.';
const UNIT_MISSING = 'The unit is missing.';

/** Finds the usual slips in a text that is no quantity of this unit: sign, comma, missing unit, capitals. */
export function mend(input: string, unit: Unit): Mending {
  const slips: string[] = [];
  let text = input;
  if ((unit === 'Ω' || unit === 'F') && /^[-\u2212]/u.test(text)) {
    slips.push('Leave out the minus sign.');
    text = text.slice(1).trim();
  }
  if (/\d,\d/.test(text)) {
    slips.push('Decimals take a point, not a comma.');
    // Three digits after a comma may as well be thousands.
    if (!/^[^,]*,[^,]*$/.test(text) || /,\d{3}(?!\d)/.test(text)) return { slips };
    text = text.replace(',', '.');
  }
  const attempts: readonly (readonly [slip: string | undefined, mended: string | undefined])[] = [
    [undefined, text],
    [UNIT_MISSING, withUnit(text, unit)],
    [CAPITALS, withRightCase(text, unit)],
  ];
  for (const [slip, mended] of attempts) {
    const value = mended === undefined ? undefined : readQuantityText(mended, unit);
    if (typeof value === 'number')
      return { slips: slip === undefined ? slips : [...slips, slip], written: written(value, unit) };
  }
  if (differsInCase(text, unit)) slips.push(CAPITALS);
  else if (prefixExponents.has(splitQuantity(text)?.tail ?? '?')) slips.push(UNIT_MISSING);
  else if (text !== input) return { slips: [] };
  return { slips };
}

function written(value: number, unit: Unit): string {
  const texts = [typedQuantity(value, unit)];
  const code = unit === 'Ω' || unit === 'F' ? formatLetterCode(value, unit) : undefined;
  if (code !== undefined) texts.push(code);
  return texts.join(' or ');
}

/** A value with a prefix alone: with its unit, unless the letter may mean something else. */
function withUnit(text: string, unit: Unit): string | undefined {
  const parts = splitQuantity(text);
  if (parts === undefined || unit === 'share') return undefined;
  const { tail } = parts;
  const start = text.slice(0, text.length - tail.length);
  if (unit === 'Ω' && (tail === 'R' || tail === 'K')) return `${start}${tail === 'K' ? 'k' : ''}Ω`;
  // 5 m may be minutes, 4.7 m of a resistor megohms; 10 f of a capacitor are farads with a small letter.
  const doubtful = (tail === 'm' && (unit === 's' || unit === 'Ω')) || (tail === 'f' && unit === 'F');
  return prefixExponents.has(tail) && !doubtful && isUsual(tail, unit) ? text + unitWriting[unit].symbol : undefined;
}

/** Nobody means kilofarads or megaseconds. */
function isUsual(prefix: string, unit: Unit): boolean {
  return (unit !== 'F' && unit !== 's') || (prefixExponents.get(prefix) ?? 0) <= 0;
}

/** The text with capitals as they are read; never takes milli for mega or the other way round. */
function withRightCase(text: string, unit: Unit): string | undefined {
  if (unit === 'Ω' && /^\d*[rlg]\d*$/u.test(text)) return text.toUpperCase();
  if (unit === 'F' && /^\d*[PNU]\d*$/u.test(text)) return text.toLowerCase();
  const tail = splitQuantity(text)?.tail ?? '';
  const found = [...tailsLike(tail, unit)].filter(
    ({ prefix }) =>
      isUsual(prefix, unit) && (prefix.toLowerCase() !== 'm' || (tail.startsWith(prefix) && unit !== 'Hz')),
  );
  const [only, ...others] = new Set(found.map(({ prefix }) => prefix));
  if (only === undefined || others.length > 0) return undefined;
  return text.slice(0, text.length - tail.length) + only + unitWriting[unit].symbol;
}

/** Whether the text would be a quantity of this unit if capitals did not count. */
function differsInCase(text: string, unit: Unit): boolean {
  if (unit === 'Ω' && /^\d*\.?\d*m\d*$/u.test(text)) return true;
  return [...tailsLike(splitQuantity(text)?.tail ?? '', unit)].length > 0;
}

function* tailsLike(tail: string, unit: Unit): Generator<{ readonly prefix: string }> {
  if (tail === '') return;
  for (const spelling of unitWriting[unit].spellings) {
    for (const prefix of prefixExponents.keys()) {
      if (tail.toLowerCase() === (prefix + spelling).toLowerCase()) yield { prefix };
    }
  }
}
