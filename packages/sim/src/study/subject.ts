import type { MeasureContext } from '../measure/context.ts';

/** Values of a circuit by the name the study uses for them, in SI units. */
export type NamedValues = ReadonlyMap<string, number>;

/** A circuit made for certain values, with what readings need to know of it; or why there is none, as a sentence. */
export type BuiltSubject =
  | { readonly ok: true; readonly context: MeasureContext }
  | { readonly ok: false; readonly reason: string };

/**
 * What a study looks at: a circuit as a function of some of its values. A contract of three points.
 *
 * 1. The same values always give the same circuit; nothing is remembered that could be seen from outside.
 * 2. Values it was not given stay what they are; values it does not know are a mistake of the caller (RangeError).
 * 3. Values that make no circuit (a negative resistance, a pulse longer than its period) are answered with the reason,
 *    never thrown.
 */
export type Subject = (values: NamedValues) => BuiltSubject;
