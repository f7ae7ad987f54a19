/** Reads one field of a file. Returns the value to keep, or what is wrong with it. Never throws. */
export interface FieldReader {
  (input: unknown): FieldResult;
  /** The words of a field that takes one of a few. */
  readonly words?: readonly string[];
}

/** What a field reader returns. */
export type FieldResult = { readonly ok: true; readonly value: unknown } | FieldFault;

/** Why a field was refused. */
export interface FieldFault {
  readonly ok: false;
  /** The message without its place: "must <rule>; got <value>. <what to do>". */
  readonly message: string;
  /** The place inside a structured field, for example `.period` or `[2].at`. */
  readonly path?: string;
  /** Further faults of the same field, where a structured field has several. */
  readonly others?: readonly FieldFault[];
}

/** Makes a fault. `message` reads "must <rule>; got <value>. <what to do>". */
export function fault(message: string, path?: string): FieldFault {
  return path === undefined ? { ok: false, message } : { ok: false, message, path };
}
