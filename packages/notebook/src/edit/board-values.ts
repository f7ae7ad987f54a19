import { readyBoards } from '@two-thirds/sim/board';
import { mainFields } from '@two-thirds/sim/document';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { type Path, valueAt, withValue } from './path.ts';

/** A value of a part: the part, and the steps from it to the value, the first of them a field. */
export interface ValuePlace {
  readonly part: string;
  readonly steps: Path;
}

/** A place as the document check names it: `S1.presses[0].at`. */
export function placeName({ part, steps }: ValuePlace): string {
  return part + steps.map((step) => (typeof step === 'number' ? `[${step}]` : `.${step}`)).join('');
}

/** The parts of a board as JSON: its own list, or that of the ready board it names with the values it sets. */
export function boardParts(document: Json, board: string): readonly JsonRecord[] {
  const data = valueAt(document, ['boards', board]);
  if (!isRecord(data)) return [];
  if (data['ready'] === undefined) return isList(data['parts']) ? data['parts'].filter(isRecord) : [];
  // A ready board is plain data of the same form as a file.
  let parts = (readyBoards.get(textOf(data['ready']))?.circuit.parts ?? []) as readonly JsonRecord[];
  for (const [name, value] of Object.entries(isRecord(data['values']) ? data['values'] : {})) {
    const place = valuePlace(parts, name);
    if (place === undefined || value === undefined) continue;
    parts = parts.map((part) => (part['name'] === place.part ? settled(part, place.steps, value) : part));
  }
  return parts;
}

/** A step of a name: a field, or the place of an entry of a list. */
const STEP = /([^.[\]]+)|\[(\d+)\]/g;

/** Finds the value that a short name such as `R1`, `G1.wave.period` or `S1.presses[0].for` means among these parts. */
export function valuePlace(parts: readonly JsonRecord[], name: string): ValuePlace | undefined {
  const [part, ...given] = [...name.matchAll(STEP)].map(([, field, entry]) => field ?? Number(entry));
  const found = parts.find((each) => each['name'] === part);
  if (found === undefined || typeof part !== 'string') return undefined;
  if (given.length > 0) return { part, steps: given };
  const main = mainFields.get(textOf(found['kind']));
  return main === undefined ? undefined : { part, steps: [main] };
}

/**
 * What to write where, so that a value of a board becomes another. A board's own parts are changed in place. A ready
 * board's parts do not stand in the document: there the change goes into its `values`, under the name that already
 * sets this value or one around it, else under a name of its own. Nothing typed takes a field of a board's own part
 * away, so that its default holds again; the value a part cannot be without stays to be corrected.
 */
export function valueChange(
  document: Json,
  board: string,
  { part, steps }: ValuePlace,
  value: Json,
): { readonly path: Path; readonly value: Json | undefined } | undefined {
  const data = valueAt(document, ['boards', board]);
  if (!isRecord(data)) return undefined;
  if (data['ready'] === undefined) {
    const parts = data['parts'];
    if (!isList(parts)) return undefined;
    const index = parts.findIndex((each) => isRecord(each) && each['name'] === part);
    if (index < 0) return undefined;
    const isMain = steps[0] === mainFields.get(textOf(valueAt(parts, [index, 'kind'])));
    const isCleared = value === '' && steps.length === 1 && !isMain;
    return { path: ['boards', board, 'parts', index, ...steps], value: isCleared ? undefined : value };
  }
  const parts = boardParts(document, board);
  const values = isRecord(data['values']) ? data['values'] : {};
  const key = coveringKey(parts, Object.keys(values), { part, steps }) ?? [part, ...fieldSteps(steps)].join('.');
  const covered = valuePlace(parts, key)?.steps ?? fieldSteps(steps);
  const inner = steps.slice(covered.length);
  const whole = parts.find((each) => each['name'] === part);
  return { path: ['boards', board, 'values', key], value: withValue(valueAt(whole, covered), inner, value) };
}

/** The steps up to the first list position: names of values have no positions. */
function fieldSteps(steps: Path): string[] {
  const until = steps.findIndex((step) => typeof step === 'number');
  return steps.slice(0, until < 0 ? steps.length : until).map(String);
}

function coveringKey(parts: readonly JsonRecord[], keys: readonly string[], wanted: ValuePlace): string | undefined {
  return keys.find((key) => {
    const place = valuePlace(parts, key);
    return place?.part === wanted.part && place.steps.every((step, index) => step === wanted.steps[index]);
  });
}

function settled(part: JsonRecord, steps: Path, value: Json): JsonRecord {
  try {
    return withValue(part, steps, value) as JsonRecord;
  } catch {
    // A name that leads nowhere; the document check says so at its place.
    return part;
  }
}

function textOf(value: Json | undefined): string {
  return typeof value === 'string' ? value : '';
}
