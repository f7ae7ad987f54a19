import { checkNets } from '../circuit/check-nets.ts';
import type { Circuit, Part } from '../circuit/description.ts';
import { readPart } from '../circuit/read-part.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import type { BuiltSubject, NamedValues, Subject } from '../study/subject.ts';
import { joins, readAlready } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import { runNames } from './cell-names.ts';
import { withValue } from './knob.ts';
import { NOT_ATTACHED, type ReadPlace } from './swap-places.ts';

/** Circuits whose nets have been checked, and whose facts are known, that a subject keeps. */
const MOST_KEPT = 10_000;

/** A part as plugged in: undefined where it is not attached; or why it cannot be read. */
type Plugged = { readonly part: Part | undefined; readonly joins: string } | { readonly reason: string };

/**
 * The subject of studies that plug parts into a board: it is given, for each place, the position of what is plugged in.
 * Every part is read once for each combination of its own choices; what a circuit joins is checked once for all circuits
 * that join the same.
 */
export function swapSubject(board: GoodBoard, places: readonly ReadPlace[]): Subject {
  const { circuit, prefix } = board;
  const swapped = [...new Set(places.map(({ part }) => part))].map((name) => {
    const index = circuit.parts.findIndex((part) => part.name === prefix + name);
    const before = circuit.parts[index]!;
    const decides = before.kind === 'timer' || before.kind === 'supply';
    return {
      name,
      index,
      before,
      decides,
      own: places.filter(({ part }) => part === name),
      kept: new Map<string, Plugged>(),
    };
  });
  const asBuilt = swapped.map(({ before }) => joins(before)).join('\n');
  const checked = new Map<string, string | null>();
  const facts = new Map<string, ReturnType<typeof runNames>['context']>();
  return (given: NamedValues): BuiltSubject => {
    const parts: (Part | undefined)[] = [...circuit.parts];
    const joined: string[] = [];
    let deciding = '';
    for (const { name, index, before, decides, own, kept } of swapped) {
      const key = own.map((place) => given.get(place.name)).join();
      const plugged = kept.get(key) ?? plug(board, name, before, own, given);
      kept.set(key, plugged);
      if ('reason' in plugged) return { ok: false, reason: plugged.reason };
      parts[index] = plugged.part;
      joined.push(plugged.joins);
      if (decides) deciding += `${key};`;
    }
    const present = parts.filter((part) => part !== undefined);
    const what = joined.join('\n');
    if (what !== asBuilt) {
      const why = checked.get(what) ?? faultOf(present);
      if (checked.size >= MOST_KEPT) checked.clear();
      checked.set(what, why);
      if (why !== null) return { ok: false, reason: why };
    }
    const now: Circuit = { parts: present, nets: circuit.nets };
    const known = facts.get(deciding) ?? runNames({ ...board, circuit: now }).context;
    if (facts.size >= MOST_KEPT) facts.clear();
    facts.set(deciding, known);
    return { ok: true, context: { ...known, circuit: now } };
  };
}

function plug(board: GoodBoard, name: string, before: Part, own: readonly ReadPlace[], given: NamedValues): Plugged {
  let data = board.parts.find((each) => (each as Part).name === name);
  for (const place of own) {
    const choice = given.get(place.name);
    if (choice === undefined) continue;
    const value = place.data[choice];
    if (before.kind === 'probe' && value === NOT_ATTACHED) return { part: undefined, joins: NOT_ATTACHED };
    data = withValue(data, place.steps, value);
  }
  const { part, issues } = readPart(data, standardKinds, { place: '', index: 0 });
  if (part === undefined) return { reason: issues.find(({ severity }) => severity === 'fault')?.message ?? 'refused' };
  const after = { ...part, name: before.name, nets: before.nets };
  return { part: after, joins: joins(after) };
}

function faultOf(parts: readonly Part[]): string | null {
  const issues = checkNets(parts.map(readAlready), standardKinds, '');
  return issues.find(({ severity }) => severity === 'fault')?.message ?? null;
}
