import { valueChange } from '../edit/board-values.ts';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import { typedValue } from '../edit/typed-value.ts';
import type { ValueView } from './board-view.ts';

/** The edit that sets a value of a board to what was typed; `undefined` where the board has no such part. */
export function valueEdit(document: Json, board: string, value: ValueView, text: string): Edit | undefined {
  const change = valueChange(document, board, value.place, typedValue(text, value.raw, value.text));
  return change === undefined ? undefined : { ...change, label: `${value.name} to ${text}` };
}
