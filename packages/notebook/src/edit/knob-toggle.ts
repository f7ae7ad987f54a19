import { kindFields, mainFields } from '@two-thirds/sim/document';
import { spokenName } from '@two-thirds/sim/quantity';
import { boardParts, placeName, type ValuePlace, valuePlace } from './board-values.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { valueAt } from './path.ts';

/** Whether a board cell has a knob for a value. @param index position of the cell on the page. */
export function hasKnob(document: Json, index: number, place: ValuePlace): boolean {
  return knobsAt(document, index, place).length > 0;
}

/** Gives a board cell a knob for a value, or takes it away. @param index position of the cell on the page. */
export function toggleKnob(document: Json, index: number, place: ValuePlace): Edit {
  const path = ['page', index, 'knobs'];
  const found = valueAt(document, path);
  const knobs = isList(found) ? found : [];
  const here = knobsAt(document, index, place);
  const name = knobName(document, boardAt(document, index), place);
  if (here.length === 0) return { path, value: [...knobs, name], label: `knob for ${spokenName(name)}` };
  return { path, value: knobs.filter((_, each) => !here.includes(each)), label: `no knob for ${spokenName(name)}` };
}

/** What to say of knobs that name something of the board which is no quantity, and so cannot be turned. */
export function knobComplaint(document: Json, board: string, knobs: Json | undefined): string | undefined {
  const parts = boardParts(document, board);
  const names = (isList(knobs) ? knobs : []).filter((knob) => typeof knob === 'string');
  const still = names.find((knob) => {
    const place = valuePlace(parts, knob);
    if (place === undefined) return false;
    return !isNumeric(parts, place);
  });
  if (still === undefined) return undefined;
  return `knobs must name quantities; got ${still}, which has none to turn. Take it out, or name a value such as R1.`;
}

/** Values inside structured fields that no knob turns: words, and the seed of a bounce, which is no more or less of anything. */
const STILL = ['shape', 'between', 'seed', 'outputOneWay'];

/** Whether a value is a number, or may be one although what stands there cannot be read. */
function isNumeric(parts: readonly JsonRecord[], { part, steps }: ValuePlace): boolean {
  const owner = parts.find((each) => each['name'] === part);
  const raw = valueAt(owner, steps);
  if (isRecord(raw) || isList(raw) || typeof raw === 'boolean') return false;
  if (steps.length > 1) return !STILL.includes(String(steps.at(-1)));
  const kind = owner?.['kind'];
  const field = kindFields(typeof kind === 'string' ? kind : '').find(({ name }) => name === steps[0]);
  // Without a unit it is a word or a list until a number is stated, such as a gain.
  return field === undefined || field.unit !== undefined || typeof raw === 'number';
}

/** The positions among the knobs of a cell of those that turn a value, however they are written. */
function knobsAt(document: Json, index: number, place: ValuePlace): number[] {
  const knobs = valueAt(document, ['page', index, 'knobs']);
  const parts = boardParts(document, boardAt(document, index));
  return (isList(knobs) ? knobs : []).flatMap((knob, at) => {
    const found = typeof knob === 'string' ? valuePlace(parts, knob) : undefined;
    return found?.part === place.part && found.steps.join('.') === place.steps.join('.') ? [at] : [];
  });
}

/** A part's main value goes by the name of the part. */
function knobName(document: Json, board: string, { part, steps }: ValuePlace): string {
  const kind = boardParts(document, board).find((each) => each['name'] === part)?.['kind'];
  const isMain = steps.length === 1 && typeof kind === 'string' && mainFields.get(kind) === steps[0];
  return isMain ? part : placeName({ part, steps });
}

function boardAt(document: Json, index: number): string {
  const board = valueAt(document, ['page', index, 'board']);
  return typeof board === 'string' ? board : '';
}
