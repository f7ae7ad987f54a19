import type { Json } from './json.ts';

const truths: Readonly<Record<string, boolean>> = { true: true, yes: true, false: false, no: false };

/**
 * What typed text means as a value of the document. Quantities, names and choices stay text, as typed. Where a truth or
 * a plain number stood before, the same kind of value is made of it if it can be; lists and objects may be typed as
 * JSON. Whatever cannot be understood stays text, so that nothing typed is lost: the document check says what is wrong.
 *
 * @param before what stands in the document, if anything does.
 * @param shown the text that stood in the field, a default for example.
 */
export function typedValue(text: string, before: Json | undefined, shown: string): Json {
  const truth = Object.hasOwn(truths, text) ? truths[text] : undefined;
  const wasTruth = typeof before === 'boolean' || (before === undefined && Object.hasOwn(truths, shown));
  if (wasTruth && truth !== undefined) return truth;
  if (typeof before === 'number' && text !== '' && Number.isFinite(Number(text))) return Number(text);
  if (/^[[{]/.test(text)) {
    try {
      return JSON.parse(text) as Json;
    } catch {
      return text;
    }
  }
  return text;
}
