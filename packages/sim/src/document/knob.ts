import { isObject, ownEntry } from '../field/record.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { Part, PartKinds } from '../circuit/description.ts';
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

/**
 * A value of a circuit: position of the part in its list, and the steps to the value, the first of them a field; the place
 * of an entry of a list is a step in figures.
 */
export interface ValuePath {
  readonly index: number;
  readonly part: string;
  readonly steps: readonly string[];
}

/** The place of an entry of a list, counted from 0: `[0]`. */
const ENTRY = /\[(\d+)\]/g;

/** A path, or why there is none, as "must ...; got .... ...". */
export type FoundPath =
  | { readonly ok: true; readonly path: ValuePath }
  | { readonly ok: false; readonly message: string };

/**
 * Finds the value that a text such as `R1`, `BT1.voltage`, `G1.wave.period` or `S1.presses[0].for` names in a parts list.
 * The part and its field are checked, steps further in are not.
 *
 * @param parts the parts as they stand in the file.
 */
export function findValue(text: string, parts: readonly unknown[], kinds: PartKinds): FoundPath {
  const [name = '', ...given] = text.replaceAll(ENTRY, '.$1').split('.');
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
  const missing = missingEntry(part, steps);
  if (missing !== undefined) {
    const { list, count } = missing;
    const advice = count === 0 ? 'It has none: state one.' : `Its entries are [0] to [${count - 1}].`;
    return refuse(`name an entry that ${list} has`, text, advice);
  }
  return { ok: true, path: { index, part: name, steps } };
}

/** The list on the way in which the steps name no entry, and how many it has. */
function missingEntry(
  part: Readonly<Record<string, unknown>>,
  steps: readonly string[],
): { list: string; count: number } | undefined {
  const lists = steps.map((_, index) => steps.slice(0, index));
  const at = lists.find((way, index) => {
    const list = valueAlong(part, way);
    return Array.isArray(list) && (list as readonly unknown[])[Number(steps[index])] === undefined;
  });
  if (at === undefined) return undefined;
  return { list: [String(part.name), ...at].join('.'), count: (valueAlong(part, at) as readonly unknown[]).length };
}

/** What stands at the end of the steps, or `undefined` if there is nothing. */
export function valueAlong(data: unknown, steps: readonly string[]): unknown {
  return steps.reduce<unknown>((at, step) => {
    if (Array.isArray(at)) return (at as readonly unknown[])[Number(step)];
    return isObject(at) ? ownEntry(at, step) : undefined;
  }, data);
}

/**
 * The value of a part at the end of the steps, or `undefined` if there is none: as stated or by default; what a timer has
 * from its family stands under `with` as if it were stated there.
 */
export function partValue(part: Part | undefined, steps: readonly string[]): unknown {
  const value = valueAlong(part?.values, steps);
  if (value !== undefined || part?.kind !== 'timer' || steps[0] !== 'with') return value;
  return valueAlong(part.values.parameters, steps.slice(1));
}

/** A copy of an object with one value set, and objects made where steps lead through nothing. */
export function withValue(data: unknown, steps: readonly string[], value: unknown): unknown {
  const [step, ...rest] = steps;
  if (step === undefined) return value;
  if (Array.isArray(data)) {
    const entries = data as readonly unknown[];
    return entries.map((entry, index) => (index === Number(step) ? withValue(entry, rest, value) : entry));
  }
  const object = isObject(data) ? data : {};
  return { ...object, [step]: withValue(ownEntry(object, step), rest, value) };
}

function refuse(rule: string, got: string, advice: string): FoundPath {
  return { ok: false, message: `must ${rule}; got ${foundText(got)}. ${advice}` };
}
