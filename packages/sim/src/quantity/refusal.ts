import { foundText } from '../core/found-text.ts';
import { readLetterCode } from './letter-code.ts';
import { type Mending, mend } from './mending.ts';
import { readQuantityText } from './quantity-text.ts';
import { type Unit, units, unitWriting } from './unit.ts';

/** Longest text that is read, in UTF-16 code units; any quantity fits in a third of it. */
export const LONGEST_QUANTITY_TEXT = 64;

/**
 * Says why an input is no quantity of this unit, and how to write it where that can be told:
 * `must be a resistance; got "4.7k". The unit is missing. Write 4.7 kΩ or 4K7.`
 * `must be a resistance; got "5 V", a voltage. Write for example 68 kΩ or 4K7.`
 *
 * The name of the field goes before it, see `issueText`.
 */
export function refusal(input: unknown, unit: Unit): string {
  const { kind, examples } = unitWriting[unit];
  const { got, slips = [], written } = finding(input, unit);
  const advice = written === undefined ? `Write for example ${examples[0]} or ${examples[1]}.` : `Write ${written}.`;
  return [`must be ${kind}; got ${got}.`, ...slips, advice].join(' ');
}

interface Finding extends Partial<Mending> {
  readonly got: string;
}

function finding(input: unknown, unit: Unit): Finding {
  if (typeof input !== 'string') return { got: foundText(input) };
  if (input.length > LONGEST_QUANTITY_TEXT) {
    return {
      got: `a text of ${input.length} characters`,
      slips: [`A quantity has at most ${LONGEST_QUANTITY_TEXT}.`],
    };
  }
  const text = input.trim();
  const got = foundText(text);
  const value = readQuantityText(text, unit);
  if (typeof value === 'string') return { got: `${got}, ${value} to compute with` };
  const other = kindOf(text);
  const mended = mend(text, unit);
  return { got: other === undefined ? got : `${got}, ${other}`, ...mended };
}

/** What the text is, if it is a quantity of any unit. */
function kindOf(text: string): string | undefined {
  const kin = units.find((unit) => readQuantityText(text, unit) !== undefined);
  if (kin === undefined) return undefined;
  const isCode = (kin === 'Ω' || kin === 'F') && readLetterCode(text, kin) !== undefined;
  return isCode ? `the code of ${unitWriting[kin].kind}` : unitWriting[kin].kind;
}
