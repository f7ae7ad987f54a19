import { foundText } from '../core/found-text.ts';

/** Names that every object already has; as keys they would be mistaken for something else. */
const RESERVED: ReadonlySet<string> = new Set(['prototype', ...Object.getOwnPropertyNames(Object.prototype)]);

/** The net that every voltage is counted from. */
export const GROUND = 'ground';

/**
 * Whether the text can name a part or a net: a letter (a-z, A-Z), then letters, digits or `_`; not a name that every
 * object has, such as `constructor`.
 */
export function isName(text: string): boolean {
  return /^[A-Za-z][A-Za-z0-9_]*$/.test(text) && !RESERVED.has(text);
}

/** Why `input` cannot be a name, as "must ...; got .... ...", or `undefined` if it can. */
export function nameFault(input: unknown, example: string): string | undefined {
  if (typeof input === 'string' && isName(input)) return undefined;
  const advice = `Write for example "${example}".`;
  if (typeof input === 'string' && RESERVED.has(input)) {
    return `must not be a word that is reserved; got ${foundText(input)}. ${advice}`;
  }
  return `must be a letter followed by letters, digits or _; got ${foundText(input)}. ${advice}`;
}
