import type { PageCell } from './cells.ts';
import { sectionOf } from './sections.ts';

/** What a reader expected of a result before it was shown. */
export interface Prediction {
  readonly text: string;
  /** Whether the result has been shown. */
  readonly revealed: boolean;
}

/** The predictions of a page by the id of the cell that asks for one. */
export type Predictions = Readonly<Record<string, Prediction>>;

/** Sections that begin something new, so that what stands in them does not wait for a prediction asked for before them. */
const beginsAnew = new Set(['ask', 'predict', 'check']);

/**
 * The cells that wait for a prediction, each with the cell that asks for it. A cell that holds its result back, and a
 * question that waits for a number, make what follows wait too, up to the next question: results and explanations would
 * give it away. Boards never wait.
 */
export function heldCells(cells: readonly PageCell[], predictions: Predictions): ReadonlyMap<string, string> {
  const held = new Map<string, string>();
  let asks: string | undefined;
  let before: string | undefined;
  for (const cell of cells) {
    const section = sectionOf(cell);
    const holdsBack = cell.data['hold_back'] === true || cell.kind === 'ask';
    const begins = section !== undefined && section !== before && beginsAnew.has(section);
    if (begins && !holdsBack) asks = undefined;
    before = section;
    if (asks === undefined && holdsBack && predictions[cell.id]?.revealed !== true) asks = cell.id;
    if (asks !== undefined && cell.kind !== 'board') held.set(cell.id, asks);
  }
  return held;
}

/** The prediction that was made for a cell's result, once it is shown: the one of the cell itself. */
export function madePrediction(predictions: Predictions, id: string): string | undefined {
  const made = predictions[id];
  return made?.revealed === true && made.text.trim() !== '' ? made.text.trim() : undefined;
}
