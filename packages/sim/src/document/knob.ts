import { isObject, ownEntry } from '../field/record.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { PartKinds } from '../circuit/description.ts';
import { foundText } from '../core/found-text.ts';

/**
 * The field that is meant where only a part is named: what one changes first on such a part. A kind that is not listed
 * has none; there the field must be named as well.
 */
export const mainFields: ReadonlyMap<string, string> = new Map([
  ['supply', 'voltage'],
  ['resistor', 'resistance'],
  ['pot', 'position'],
  ['capacitor', 'capacitance'],
  ['button', 'presses'],
  ['jumper', 'closed'],
  ['switch', 'closed'],
  ['diode', 'forward'],
  ['led', 'forward'],
  ['transistor', 'drive'],
  ['finger', 'touches'],
  ['probe', 'resistance'],
  ['timer', 'family'],
  ['source', 'current'],
  ['speaker', 'resistance'],
  ['buzzer', 'resistance'],
  ['relay', 'resistance'],
  ['solenoid', 'resistance'],
]);

/** A value of a circuit: position of the part in its list, and the steps to the value, the first of them a field. */
export interface ValuePath {
  readonly index: number;
  readonly part: string;
  readonly steps: readonly string[];
}

/** A path, or why there is none, as "must ...; got .... ...". */
export type FoundPath =
  | { readonly ok: true; readonly path: ValuePath }
  | { readonly ok: false; readonly message: string };

/**
 * Finds the value that a text such as `R1`, `BT1.voltage` or `G1.wave.period` names in a parts list. The part and its
 * field are checked, steps further in are not.
 *
 * @param parts the parts as they stand in the file.
 */
export function findValue(text: string, parts: readonly unknown[], kinds: PartKinds): FoundPath {
  const [name = '', ...given] = text.split('.');
  const index = parts.findIndex((part) => isObject(part) && ownEntry(part, 'name') === name);
  const part = parts[index];
  if (!isObject(part)) {
    const names = parts.flatMap((other) => (isObject(other) && typeof other.name === 'string' ? [other.name] : []));
    return refuse(
      `name a part of the board (${listedNames(names)})`,
      text,
      nameAdvice(name, names, 'Correct the name.'),
    );
  }
  const kind = kinds.get(String(part.kind));
  const fields = kind?.fields.map((field) => field.name) ?? [];
  const main = mainFields.get(String(part.kind));
  const steps = given.length === 0 && main !== undefined ? [main] : given;
  const [field] = steps;
  if (field === undefined) {
    return refuse(`name a field of ${name} too`, text, `Write for example "${name}.${fields[0] ?? 'field'}".`);
  }
  if (!fields.includes(field)) {
    return refuse(
      `name a field of ${name} (${listedNames(fields)})`,
      text,
      nameAdvice(field, fields, 'Correct the name.'),
    );
  }
  return { ok: true, path: { index, part: name, steps } };
}

/** What stands at the end of the steps, or `undefined` if there is nothing. */
export function valueAlong(data: unknown, steps: readonly string[]): unknown {
  return steps.reduce<unknown>((at, step) => (isObject(at) ? ownEntry(at, step) : undefined), data);
}

/** A copy of an object with one value set, and objects made where steps lead through nothing. */
export function withValue(data: unknown, steps: readonly string[], value: unknown): unknown {
  const [step, ...rest] = steps;
  if (step === undefined) return value;
  const object = isObject(data) ? data : {};
  return { ...object, [step]: withValue(ownEntry(object, step), rest, value) };
}

function refuse(rule: string, got: string, advice: string): FoundPath {
  return { ok: false, message: `must ${rule}; got ${foundText(got)}. ${advice}` };
}
