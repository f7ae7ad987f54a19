import type { Issue } from '../core/errors.ts';
import { foundText, quotedText } from '../core/found-text.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { checkNets } from './check-nets.ts';
import type { Circuit, PartKinds } from './description.ts';
import { GROUND } from './names.ts';
import { MOST_UNKNOWN, partIssue, readPart } from './read-part.ts';

/** More parts than this are refused: a board of hand-sized experiments has far fewer, and the equations grow fast. */
export const MOST_PARTS = 500;

/** What {@link checkCircuit} gives: everything found, and the circuit where nothing found is a fault. */
export interface CheckedCircuit {
  readonly issues: readonly Issue[];
  readonly circuit?: Circuit;
}

/**
 * Reads a circuit as it stands in a file (`CircuitData`) and finds everything wrong with it at once. Never throws,
 * whatever the input.
 *
 * @param data the circuit; anything at all is taken, and refused in words.
 * @param kinds the part kinds that are known.
 * @param place put before every place in the messages, for example `boards.counter`.
 */
export function checkCircuit(data: unknown, kinds: PartKinds, place = ''): CheckedCircuit {
  const list = partsList(data, place);
  if ('message' in list) return { issues: [list] };
  const first = firstWithName(list);
  const entries = Array.from(list, (entry: unknown, index) => {
    const earlier = first.get(nameOf(entry)) ?? index;
    return readPart(entry, kinds, earlier < index ? { place, index, earlier } : { place, index });
  });
  const partIssues = entries.flatMap((entry) => entry.issues);
  const parts = entries.flatMap((entry) => (entry.part === undefined ? [] : [entry.part]));
  const nets = new Set([...entries.flatMap((entry) => entry.mentioned)]);
  const issues = [...unknownFields(data, place), ...partIssues, ...checkNets(entries, kinds, place)];
  if (issues.some((issue) => issue.severity === 'fault')) return { issues };
  return { issues, circuit: { parts, nets: [...nets.add(GROUND)] } };
}

/** The parts list, or the one issue that leaves nothing to check. */
function partsList(data: unknown, place: string): readonly unknown[] | Issue {
  const label = place === '' ? 'circuit' : place;
  const issue = (code: string, field: string | undefined, message: string): Issue =>
    partIssue(code, { place: '' }, label, field, message);
  if (!isObject(data)) {
    return issue(
      'not-an-object',
      undefined,
      `must be an object with parts; got ${foundText(data)}. Write for example { "parts": [ ... ] }.`,
    );
  }
  const parts: unknown = ownEntry(data, 'parts');
  if (parts === undefined) {
    return issue('missing-field', 'parts', 'must be a list of parts; got nothing. Write for example "parts": [ ... ].');
  }
  if (!Array.isArray(parts)) {
    return issue(
      'not-a-list',
      'parts',
      `must be a list of parts; got ${foundText(parts)}. Write for example "parts": [ ... ].`,
    );
  }
  if (parts.length > MOST_PARTS) {
    return issue(
      'too-many-parts',
      'parts',
      `must be at most ${MOST_PARTS} parts; got ${parts.length}. Divide it into several boards.`,
    );
  }
  return parts as readonly unknown[];
}

/** Refuses what stands beside the parts list. */
function unknownFields(data: unknown, place: string): Issue[] {
  const names = isObject(data) ? Object.keys(data).filter((name) => name !== 'parts') : [];
  const label = place === '' ? 'circuit' : place;
  return names.slice(0, MOST_UNKNOWN).map((name) => {
    const message = `must have no other fields than parts; got ${quotedText(name)}. Take it out.`;
    return { ...partIssue('unknown-field', { place: '' }, label, undefined, message), field: name };
  });
}

/** Position of the first part with each name. */
function firstWithName(list: readonly unknown[]): Map<unknown, number> {
  const first = new Map<unknown, number>();
  for (const [index, entry] of list.entries()) {
    const name = nameOf(entry);
    if (typeof name === 'string' && !first.has(name)) first.set(name, index);
  }
  return first;
}

function nameOf(entry: unknown): unknown {
  return isObject(entry) ? ownEntry(entry, 'name') : undefined;
}
