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
