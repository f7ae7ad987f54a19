/** Any value a JSON file can hold. */
export type Json = string | number | boolean | null | readonly Json[] | JsonRecord;

/** A JSON object. */
export interface JsonRecord {
  readonly [key: string]: Json | undefined;
}

/** True for a JSON object (not for a list, not for `null`). */
export function isRecord(value: unknown): value is JsonRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** True for a JSON list. */
export function isList(value: Json | undefined): value is readonly Json[] {
  return Array.isArray(value);
}

/**
 * Whether two values are written the same in a file. What both share is passed by, so that a document is compared with
 * the one that came of an edit of it by the way to the place of the edit alone.
 */
export function isSameJson(one: Json | undefined, other: Json | undefined): boolean {
  if (one === other) return true;
  if (isList(one) && isList(other) && one.length === other.length)
    return one.every((each, index) => isSameJson(each, other[index]));
  if (isRecord(one) && isRecord(other)) {
    const [names, others] = [Object.keys(one), Object.keys(other)];
    if (names.length === others.length && names.every((name, index) => name === others[index]))
      return names.every((name) => isSameJson(one[name], other[name]));
  }
  return JSON.stringify(one) === JSON.stringify(other);
}

/** The opposite of {@link isSameJson}, for properties that are made anew each time. */
export function isOtherJson(one: Json | undefined, other: Json | undefined): boolean {
  return !isSameJson(one, other);
}
