import type { Circuit, Field, Part, PartKind, PartKinds } from '../circuit/description.ts';
import { defaultOf } from '../circuit/read-part.ts';
import { parameterUnits } from '../device/read-parameters.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { formatQuantity, type Unit } from '../quantity/index.ts';
import type { BoardResult, PartRow } from './results.ts';

/** Units of what structured fields hold: waves, supply changes, presses. */
export const memberUnits: Readonly<Record<string, Unit>> = {
  period: 's',
  width: 's',
  delay: 's',
  at: 's',
  for: 's',
  over: 's',
  frequency: 'Hz',
  duty: 'share',
  rest: 'V',
  pulse: 'V',
  level: 'V',
  amplitude: 'V',
  offset: 'V',
  phase: 'rad',
  high: 'V',
  low: 'V',
  voltage: 'V',
};

/** Unit of a value inside a structured field, by its steps from the part; undefined for what has none. */
export function innerUnit(steps: readonly string[]): Unit | undefined {
  const last = steps.at(-1) ?? '';
  if (steps[0] === 'with') return (parameterUnits as Readonly<Record<string, Unit>>)[last];
  if (steps.at(-3) === 'points') return last === '0' ? 's' : 'V';
  return memberUnits[last];
}

/**
 * The parts list of a board, every field with its value, given or default.
 *
 * @param written the parts as they stand in the file, to tell what was given; found by name.
 */
export function partRows(parts: readonly Part[], written: readonly unknown[], kinds: PartKinds): PartRow[] {
  return parts.flatMap((part) => {
    const kind = kinds.get(part.kind);
    const given = written.find((each) => isObject(each) && ownEntry(each, 'name') === part.name);
    return kind === undefined ? [] : [partRow(part, kind, isObject(given) ? given : {})];
  });
}

function partRow(part: Part, kind: PartKind, written: Readonly<Record<string, unknown>>): PartRow {
  const fields = kind.fields.map((field) => {
    const given = ownEntry(written, field.name) !== undefined;
    const value = part.values[field.name];
    const usual = field.required === true ? undefined : defaultOf(field, part.values);
    const source = given ? undefined : usual?.source;
    return {
      name: field.name,
      title: field.title,
      text: fieldText(value, field),
      ...(typeof value === 'number' && Number.isFinite(value) ? { value } : {}),
      ...(field.unit === undefined ? {} : { unit: field.unit }),
      given,
      ...(given && typeof usual?.value === 'number' ? { usual: fieldText(usual.value, field) } : {}),
      ...(source === undefined ? {} : { source }),
    };
  });
  return { name: part.name, kind: part.kind, title: kind.title, nets: part.nets, fields };
}

function fieldText(value: unknown, field: Field): string {
  if (typeof value === 'number' && field.unit !== undefined) {
    return value === Infinity ? 'none' : formatQuantity(value, field.unit, { exact: true });
  }
  return value === undefined ? 'not stated' : plainText(value);
}

function plainText(value: unknown, unit?: Unit): string {
  if (typeof value === 'number') {
    if (value === Infinity) return 'endless';
    return unit === undefined ? String(value) : formatQuantity(value, unit, { exact: true });
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map((entry) => plainText(entry)).join('; ');
  if (isObject(value)) {
    const members = Object.entries(value).filter(([, member]) => member !== undefined);
    if (members.length === 0) return 'none';
    if (typeof value['shape'] === 'string') {
      const { shape, points, ...rest } = value;
      return [`${shape}: ${plainText(rest)}`, ...(Array.isArray(points) ? [pointsText(points)] : [])].join('; ');
    }
    return members.map(([name, member]) => `${name} ${plainText(member, memberUnits[name])}`).join(', ');
  }
  return typeof value === 'string' ? value : 'not stated';
}

/** Corners of a wave as `12 V at 0 s`. */
function pointsText(points: readonly unknown[]): string {
  const corners = points.map((point) => {
    const [time, level] = Array.isArray(point) ? (point as unknown[]) : [];
    return `${plainText(level, 'V')} at ${plainText(time, 's')}`;
  });
  return corners.join(', ');
}

/** Nets with the terminals that meet there, in order of first mention. */
export function netRows(circuit: Pick<Circuit, 'parts'>): BoardResult['nets'] {
  const joins = new Map<string, string[]>();
  for (const part of circuit.parts) {
    for (const [terminal, net] of Object.entries(part.nets)) {
      const ends = joins.get(net);
      if (ends === undefined) joins.set(net, [`${part.name}.${terminal}`]);
      else ends.push(`${part.name}.${terminal}`);
    }
  }
  return [...joins].map(([net, ends]) => ({ net, joins: ends }));
}
