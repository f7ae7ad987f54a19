import { foundText, quotedText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import { type FieldFault, type FieldReader, type FieldResult, fault } from './field-reader.ts';

/** One member of a structured field. */
export interface Member {
  readonly name: string;
  readonly read: FieldReader;
  /** Used when the member is left out; a member without default must be given unless `optional`. */
  readonly default?: unknown;
  readonly optional?: boolean;
}

/** What {@link readRecord} gives: every member by name, or all that is wrong. */
export type RecordResult = { readonly ok: true; readonly value: Readonly<Record<string, unknown>> } | FieldFault;

/** Whether the input is an object with named entries: not a list, not null. */
export function isObject(input: unknown): input is Readonly<Record<string, unknown>> {
  return typeof input === 'object' && input !== null && !Array.isArray(input);
}

/** An entry of its own, never one that every object has by birth. */
export function ownEntry(object: Readonly<Record<string, unknown>>, name: string): unknown {
  return Object.hasOwn(object, name) ? object[name] : undefined;
}

/**
 * Reads an object with a fixed list of members. All faults are found: unknown members by name, missing ones, bad values;
 * the paths name the member (`.period`).
 *
 * @param example how such an object looks, for the advice.
 */
export function readRecord(input: unknown, members: readonly Member[], example: string): RecordResult {
  if (!isObject(input)) {
    return fault(`must be an object with ${nameList(members)}; got ${foundText(input)}. Write for example ${example}.`);
  }
  const faults: FieldFault[] = unknownMembers(input, members);
  const value: Record<string, unknown> = {};
  for (const member of members) {
    const given = ownEntry(input, member.name);
    if (given === undefined) {
      if (member.default !== undefined) value[member.name] = member.default;
      else if (member.optional !== true) {
        faults.push(fault(`must be given; got nothing. Write for example ${example}.`, `.${member.name}`));
      }
      continue;
    }
    const read = member.read(given);
    if (read.ok) value[member.name] = read.value;
    else faults.push(...spread(read, `.${member.name}`));
  }
  return gather(faults) ?? { ok: true, value };
}

/** Makes one fault of several, or none of none. */
export function gather(faults: readonly FieldFault[]): FieldFault | undefined {
  const [first, ...others] = faults;
  if (first === undefined || others.length === 0) return first;
  return { ...first, others };
}

/** A fault and its others as a flat list, each path put after `path`. */
export function spread(found: FieldFault, path: string): FieldFault[] {
  const { others = [] } = found;
  return [found, ...others].map((one) => fault(one.message, `${path}${one.path ?? ''}`));
}

/** Reads a list of at most `most` entries with one reader; paths name the entry (`[2].at`). */
export function readList(input: unknown, read: FieldReader, most: number, example: string): FieldResult {
  if (!Array.isArray(input)) {
    return fault(`must be a list; got ${foundText(input)}. Write for example ${example}.`);
  }
  if (input.length > most) {
    return fault(`must have at most ${most} entries; got ${input.length}. Take some out.`);
  }
  const faults: FieldFault[] = [];
  const value: unknown[] = [];
  for (const [index, entry] of input.entries()) {
    const result = read(entry);
    if (result.ok) value.push(result.value);
    else faults.push(...spread(result, `[${index}]`));
    if (faults.length >= FAULTS_OF_A_LIST) break;
  }
  return gather(faults) ?? { ok: true, value };
}

/** More faults of one list are not collected: a list made wrongly is wrong in every entry. */
const FAULTS_OF_A_LIST = 20;

function unknownMembers(input: Readonly<Record<string, unknown>>, members: readonly Member[]): FieldFault[] {
  const names = members.map((member) => member.name);
  const unknown = Object.keys(input).filter((name) => !names.includes(name));
  return unknown.slice(0, FAULTS_OF_A_LIST).map((name) => {
    const near = nearestName(name, names);
    const advice = near === undefined ? 'Take it out.' : `Did you mean ${near}?`;
    return fault(`must have no other fields than ${nameList(members)}; got ${quotedText(name)}. ${advice}`);
  });
}

function nameList(members: readonly Member[]): string {
  return members.map((member) => member.name).join(', ');
}
