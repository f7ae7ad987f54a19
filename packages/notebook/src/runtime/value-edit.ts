import { spokenName } from '@two-thirds/sim/quantity';
import { type ValuePlace, valueChange } from '../edit/board-values.ts';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { valueAt, withValue } from '../edit/path.ts';
import { partValue, withPartValue } from '../edit/place-value.ts';
import { typedValue } from '../edit/typed-value.ts';
import { changeShape } from '../edit/wave-shapes.ts';
import type { ValueView } from './board-view.ts';

/** The edit that sets a value of a board to what was typed; `undefined` where the board has no such part. */
export function valueEdit(document: Json, board: string, value: ValueView, text: string): Edit | undefined {
  const { place, name, hint } = value;
  const reshaped = name === `${place.part}.wave.shape` ? changeShape(document, board, place.part, text) : undefined;
  if (reshaped !== undefined) return reshaped;
  if (text === '' && hint !== undefined) {
    const after = withoutInner(document, board, place);
    const data = after === undefined ? undefined : valueAt(after, ['boards', board]);
    const label = hint === '' ? `${spokenName(name)} left out` : `${spokenName(name)} to ${hint}`;
    return data === undefined ? undefined : { path: ['boards', board], value: data, label };
  }
  const change = valueChange(document, board, place, documentValue(value, text));
  return change === undefined ? undefined : { ...change, label: `${spokenName(name)} to ${text}` };
}

/** What typed text is in the document: a count or a gain is a plain number also where none stood before. */
export function documentValue({ unit, words, raw, text: shown }: ValueView, text: string): Json {
  // A quantity may always be a plain number.
  return unit === undefined && words === undefined && isPlainNumber(text) ? Number(text) : typedValue(text, raw, shown);
}

function isPlainNumber(text: string): boolean {
  return text.trim() !== '' && Number.isFinite(Number(text));
}

/** The document without a field inside a value of a part, also where it is one that the part's ready board gives. */
function withoutInner(document: Json, board: string, { part, steps }: ValuePlace): Json | undefined {
  const after = withPartValue(document, board, part, steps, undefined);
  if (after === undefined || partValue(after, board, part, steps) === undefined) return after;
  const around = steps.slice(0, -1);
  const value = withValue(partValue(document, board, part, around), steps.slice(-1), undefined);
  return withPartValue(document, board, part, around, value);
}
