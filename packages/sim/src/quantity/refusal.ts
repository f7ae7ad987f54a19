import { foundText } from '../core/found-text.ts';
import { readLetterCode } from './letter-code.ts';
import { prefixExponents } from './prefix.ts';
import { readQuantityText, splitQuantity } from './quantity-text.ts';
import { type Unit, units, unitWriting } from './unit.ts';

/** Longest text that is read, in UTF-16 code units; any quantity fits in a third of it. */
export const LONGEST_QUANTITY_TEXT = 64;

/**
 * Says why an input is no quantity of this unit:
 * `must be a resistance; got "5 V", a voltage. Write for example 68 kΩ or 4K7.`
 *
 * The name of the field goes before it, see `issueText`.
 */
export function refusal(input: unknown, unit: Unit): string {
  const { kind, examples } = unitWriting[unit];
  const { got, hint } = finding(input, unit);
  const advice = `Write for example ${examples[0]} or ${examples[1]}.`;
  return `must be ${kind}; got ${got}. ${hint === undefined ? advice : `${hint} ${advice}`}`;
}

interface Finding {
  readonly got: string;
  readonly hint?: string | undefined;
}

function finding(input: unknown, unit: Unit): Finding {
  if (typeof input !== 'string') return { got: foundText(input) };
  if (input.length > LONGEST_QUANTITY_TEXT) {
    return {
      got: `a text of ${input.length} characters`,
      hint: `A quantity has at most ${LONGEST_QUANTITY_TEXT}.`,
    };
  }
  const text = input.trim();
  const got = foundText(text);
  const value = readQuantityText(text, unit);
  if (typeof value === 'string') return { got: `${got}, ${value} to compute with` };
  const other = kindOf(text);
  if (other === undefined) return { got, hint: capitals(text, unit) ?? slip(text) };
  return { got: `${got}, ${other}`, hint: capitals(text, unit) };
}

/** What the text is, if it is a quantity of any unit. */
function kindOf(text: string): string | undefined {
  const kin = units.find((unit) => readQuantityText(text, unit) !== undefined);
  if (kin === undefined) return undefined;
  const isCode = (kin === 'Ω' || kin === 'F') && readLetterCode(text, kin) !== undefined;
  return isCode ? `the code of ${unitWriting[kin].kind}` : unitWriting[kin].kind;
}

/** The slip that most likely made a text unreadable. */
function slip(text: string): string | undefined {
  if (/\d,\d/.test(text)) return 'Decimals take a point, not a comma.';
  const tail = splitQuantity(text)?.tail;
  return tail !== undefined && prefixExponents.has(tail) ? 'The unit is missing.' : undefined;
}

/** What to say if only capitals are wrong. */
function capitals(text: string, unit: Unit): string | undefined {
  return readsWithOtherCase(text, unit) ? 'Capital and small letters count: k is kilo, m milli, M mega.' : undefined;
}

/** Whether the text would be a quantity of this unit if capitals did not count. */
function readsWithOtherCase(text: string, unit: Unit): boolean {
  if (unit === 'Ω' && /^\d*[rlmg]\d*$/u.test(text)) return true;
  if (unit === 'F' && /^\d*[PNUMf]\d*$/u.test(text)) return true;
  const tail = splitQuantity(text)?.tail.toLowerCase();
  if (tail === undefined) return false;
  const prefixes = [...prefixExponents.keys()];
  return unitWriting[unit].spellings.some((spelling) =>
    prefixes.some((prefix) => tail === (prefix + spelling).toLowerCase()),
  );
}
