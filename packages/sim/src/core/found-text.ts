/** Longer texts are cut when quoted, so that a message stays one readable line (characters). */
const QUOTED_LENGTH = 40;

/**
 * Says what was found where something else was expected: the `got ...` of an error message.
 *
 * Text is quoted, with control characters escaped and cut after 40 characters; numbers are written
 * as they are, without a unit. Takes anything and never throws.
 */
export function foundText(input: unknown): string {
  switch (typeof input) {
    case 'string':
      return input === '' ? 'an empty text' : quotedText(input);
    case 'number':
      return numberText(input);
    case 'bigint':
      return `the big integer ${String(input).slice(0, QUOTED_LENGTH)}`;
    case 'boolean':
      return String(input);
    case 'undefined':
      return 'nothing';
    case 'object':
      return input === null ? 'null' : 'a list or an object';
    case 'function':
      return 'a function';
    case 'symbol':
      return 'a symbol';
  }
}

/** Text in double quotes on one line, escaped as JSON does it, cut after 40 characters. */
export function quotedText(text: string): string {
  // Cut before splitting into characters, so that a huge text costs nothing; 2 units a character at most.
  const characters = [...text.slice(0, 2 * QUOTED_LENGTH + 2)];
  if (characters.length <= QUOTED_LENGTH) return JSON.stringify(text);
  return `${JSON.stringify(characters.slice(0, QUOTED_LENGTH).join(''))}...`;
}

function numberText(value: number): string {
  if (Number.isNaN(value)) return 'not a number (NaN)';
  if (value === Infinity) return 'infinity';
  if (value === -Infinity) return 'minus infinity';
  return String(value);
}
