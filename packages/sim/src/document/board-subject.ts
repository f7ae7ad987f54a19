import { checkNets } from '../circuit/check-nets.ts';
import type { Circuit, Part, PartKind } from '../circuit/description.ts';
import { type ReadPart, readPart, withField } from '../circuit/read-part.ts';
import type { Issue } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import type { Unit } from '../quantity/index.ts';
import type { BuiltSubject, NamedValues, Subject } from '../study/subject.ts';
import type { GoodBoard } from './board-table.ts';
import { runNames } from './cell-names.ts';
import { findValue, partValue, withValue } from './knob.ts';
import { innerUnit } from './part-rows.ts';

/** A numeric value of a board that a study may change. */
export interface BoardValue {
  /** As it is named in the document: `R1`, `BT1.voltage`, `G1.wave.period`. */
  readonly name: string;
  /** The part, as the board calls it, and the steps to the value in it. */
  readonly part: string;
  readonly steps: readonly string[];
  /** Null where the value is a plain number. */
  readonly unit: Unit | null;
  /** What the document has there now, in SI units; null for none (no leakage, endless pulses). */
  readonly now: number | null;
  /** The words that its numbers 0, 1, ... stand for, where it is no number itself (`bipolar`). */
  readonly words?: readonly string[];
}

/** A value, or why the name means none, as "must ...; got .... ...". */
export type FoundBoardValue =
  | { readonly ok: true; readonly value: BoardValue }
  | { readonly ok: false; readonly message: string };

/** Finds the number that a name such as `R1` or `G1.wave.period` means on a board, named as a knob is. */
export function boardValue(name: string, board: GoodBoard): FoundBoardValue {
  const found = findValue(name, board.parts, standardKinds);
  if (!found.ok) return found;
  const { part, steps } = found.path;
  const read = board.circuit.parts.find((each) => each.name === board.prefix + part);
  const now = partValue(read, steps);
  if (typeof now !== 'number') {
    const rule = `must name a number that ${part} has, such as R1 or G1.wave.period`;
    return { ok: false, message: `${rule}; got ${foundText(name)}. Name it as it stands in the parts list.` };
  }
  return { ok: true, value: { name, part, steps, unit: unitOf(read, steps), now: Number.isFinite(now) ? now : null } };
}

function unitOf(part: Part | undefined, steps: readonly string[]): Unit | null {
  if (steps.length > 1) return innerUnit(steps) ?? null;
  return kindOf(part)?.fields.find(({ name }) => name === steps[0])?.unit ?? null;
}

function kindOf(part: Part | undefined): PartKind | undefined {
  return part === undefined ? undefined : standardKinds.get(part.kind);
}

/**
 * The subject of studies of a board: its circuit, linked boards included, with some values put in. Only parts that have
 * such a value are read anew; the circuit as a whole is checked again where a value changes what a part joins (a resistance
 * of 0 Ω).
 *
 * @param values those that will be given, by name as in {@link BoardValue}.
 */
export function boardSubject(board: GoodBoard, values: readonly BoardValue[]): Subject {
  const byName = new Map(values.map((value) => [value.name, value]));
  const places = new Map(board.circuit.parts.map((part, index) => [part.name, index]));
  const joinsNow = new Map(board.circuit.parts.map((part) => [part, joins(part)]));
  const whole = runNames(board).context;
  return (given: NamedValues): BuiltSubject => {
    const parts = [...board.circuit.parts];
    const changes = changesOf(given, byName);
    let joinsOthers = false;
    for (const [name, change] of changes) {
      const index = places.get(board.prefix + name) ?? -1;
      const before = parts[index];
      const { part, issues } = before === undefined ? notThere : changedPart(board, before, { name, index }, change);
      if (part === undefined || before === undefined) return { ok: false, reason: reasonOf(issues) };
      parts[index] = part;
      joinsOthers ||= joinsNow.get(before) !== joins(part);
    }
    const circuit = { parts, nets: board.circuit.nets };
    const faults = joinsOthers ? checkNets(parts.map(readAlready), standardKinds, '') : [];
    if (faults.some(isFault)) return { ok: false, reason: reasonOf(faults) };
    return { ok: true, context: touchesContext(changes, board) ? contextOf(board, circuit) : { ...whole, circuit } };
  };
}

/** Values that are put into one part: the steps to each, and what comes there. */
type Change = readonly (readonly [steps: readonly string[], value: unknown])[];

const notThere = { part: undefined, issues: [] };

/** What is put into each part, by the name that the board gives it. */
function changesOf(given: NamedValues, byName: ReadonlyMap<string, BoardValue>): Map<string, Change> {
  const changes = new Map<string, Change>();
  for (const [name, number] of given) {
    const value = byName.get(name);
    if (value === undefined) throw new RangeError(`boardSubject: ${name} must be one of its values.`);
    const { part, steps, words } = value;
    const change = [steps, words === undefined ? number : words[number]] as const;
    changes.set(part, [...(changes.get(part) ?? []), change]);
  }
  return changes;
}

/** A part of the circuit with some values put in, by its place in the list. */
function changedPart(
  board: GoodBoard,
  before: Part,
  { name, index }: { readonly name: string; readonly index: number },
  change: Change,
): Pick<ReadPart, 'part' | 'issues'> {
  const [[steps, value]] = change as [Change[number]];
  const kind = kindOf(before);
  if (kind !== undefined && change.length === 1 && steps.length === 1) {
    const part = withField(before, kind, steps[0]!, value);
    if (part !== undefined) return { part, issues: [] };
  }
  let data = board.parts.find((each) => (each as Part).name === name);
  for (const [way, number] of change) data = withValue(data, way, number);
  const { part, issues } = readPart(data, standardKinds, { place: '', index });
  return part === undefined ? { issues } : { part: { ...part, name: before.name, nets: before.nets }, issues };
}

/** Whether a change may move the facts that readings go by: the timers' own, and the supply that sets the high level. */
function touchesContext(changed: ReadonlyMap<string, Change>, board: GoodBoard): boolean {
  return board.circuit.parts.some(
    ({ name, kind }) => (kind === 'timer' || kind === 'supply') && changed.has(name.slice(board.prefix.length)),
  );
}

function contextOf(board: GoodBoard, circuit: Circuit): ReturnType<typeof runNames>['context'] {
  return runNames({ ...board, circuit }).context;
}

/** What a part joins, conducts between and holds, as text to compare. */
export function joins(part: Part): string {
  const kind = kindOf(part);
  return JSON.stringify([kind?.joins?.(part), kind?.sources(part), kind?.paths(part), kind?.steadyPaths?.(part)]);
}

/** A part that has been read, as the check of a circuit takes it. */
export function readAlready(part: Part): ReadPart {
  return { label: part.name, issues: [], part, mentioned: Object.values(part.nets), netsUnclear: false };
}

function reasonOf(issues: readonly Issue[]): string {
  return issues.find(isFault)?.message ?? 'the value is refused';
}

function isFault({ severity }: Issue): boolean {
  return severity === 'fault';
}
