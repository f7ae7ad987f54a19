import { type ReadyBoard, readyBoards } from '../board/index.ts';
import type { PartKinds } from '../circuit/description.ts';
import type { Issue } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { findValue, withValue } from './knob.ts';
import { placeInside } from './place.ts';
import { fault, foundData } from './schema-wording.ts';

/** A board as a parts list, still unchecked. */
export interface ExpandedBoard {
  /** What `checkCircuit` is to read. */
  readonly data: unknown;
  /** The ready board it was made from. */
  readonly ready?: ReadyBoard;
  /** For a ready board: where the document states a value, by part and field, to place faults there. */
  readonly stated: ReadonlyMap<string, string>;
  readonly issues: readonly Issue[];
}

/** What a board may hold. */
const BOARD_FIELDS = ['parts', 'ready', 'values'];

/**
 * Turns a board of a document into a parts list: its own, or that of the ready board it names with the values it states.
 *
 * @param place where the board stands, for example `boards.counter`.
 */
export function expandBoard(board: unknown, place: string, kinds: PartKinds): ExpandedBoard {
  const nothing = new Map<string, string>();
  if (!isObject(board)) return { data: board, stated: nothing, issues: [] };
  const ready = ownEntry(board, 'ready');
  const allowed = ready === undefined ? ['parts'] : ['ready', 'values'];
  const unknown = Object.keys(board).filter((name) => !allowed.includes(name));
  const issues = unknown.map((name) => unknownField(name, place, ready !== undefined));
  if (ready === undefined) {
    const parts = ownEntry(board, 'parts');
    return { data: parts === undefined ? {} : { parts }, stated: nothing, issues };
  }
  const found = typeof ready === 'string' ? readyBoards.get(ready) : undefined;
  if (found === undefined) return { data: undefined, stated: nothing, issues: [...issues, unknownReady(ready, place)] };
  const applied = applyValues(found, ownEntry(board, 'values') ?? {}, `${place}.values`, kinds);
  return { ...applied, ready: found, issues: [...issues, ...applied.issues] };
}

function applyValues(
  ready: ReadyBoard,
  values: unknown,
  place: string,
  kinds: PartKinds,
): Omit<ExpandedBoard, 'ready'> {
  const stated = new Map<string, string>();
  if (!isObject(values)) {
    const advice = 'Write for example { "R1": "47 kΩ" }.';
    const rule = `be an object of values by name (${namesOf(ready)})`;
    return {
      data: ready.circuit,
      stated,
      issues: [fault('wrong-type', place, { rule, got: foundData(values), advice })],
    };
  }
  const issues: Issue[] = [];
  let parts: readonly unknown[] = ready.circuit.parts;
  for (const [name, value] of Object.entries(values)) {
    const where = placeInside(place, name);
    const found = findValue(name, parts, kinds);
    if (!found.ok) {
      const advice = `Values of this board are ${namesOf(ready)}.`;
      issues.push({ code: 'unknown-value', severity: 'fault', where, message: `${where} ${found.message} ${advice}` });
      continue;
    }
    const { index, part, steps } = found.path;
    stated.set(`${part}.${steps[0]}`, where);
    parts = parts.with(index, withValue(parts[index], steps, value));
  }
  return { data: { parts }, stated, issues };
}

function namesOf(ready: ReadyBoard): string {
  return ready.values.map((value) => value.name).join(', ');
}

function unknownField(name: string, place: string, isReady: boolean): Issue {
  const rule = isReady ? 'have no other fields than ready and values' : 'have no other field than parts';
  const near = nearestName(name, BOARD_FIELDS);
  let advice = 'Remove it.';
  if (isReady && name === 'parts') advice = 'A ready board brings its parts: remove parts, or remove ready.';
  else if (near !== undefined && near !== name) advice = `Did you mean ${near}?`;
  return fault('unknown-field', placeInside(place, name), { label: place, rule, got: quotedText(name), advice });
}

function unknownReady(ready: unknown, place: string): Issue {
  const names = [...readyBoards.keys()];
  const near = typeof ready === 'string' ? nearestName(ready, names) : undefined;
  const advice = near === undefined ? 'Choose one of them.' : `Did you mean "${near}"?`;
  const rule = `be the name of a ready board: ${names.map((name) => `"${name}"`).join(', ')}`;
  return fault('unknown-ready-board', `${place}.ready`, {
    label: place,
    field: 'ready',
    rule,
    got: foundData(ready),
    advice,
  });
}
