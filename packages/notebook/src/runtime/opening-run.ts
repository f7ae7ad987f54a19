import { isCellKnob } from '@two-thirds/sim/document';
import { boardParts } from '../edit/board-values.ts';
import { terminalNets } from '../edit/board-names.ts';
import { isList, type Json } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';
import { boardOf, cellsOf, textField } from './cells.ts';

/** Id of a cell of {@link openingRun}: the strip of a timer. */
export const STRIP = 'strip';
/** Id of the other cell of it: what became of the pulses, in words. */
export const TOLD = 'told';

/** A run that shows what a page is about. */
export interface OpeningRunPlan {
  /** The document to compute. */
  readonly document: Json;
  /** The first knob of a value of its board on the page. */
  readonly knob: string;
}

/**
 * What a page is about, to be run at once: a document of two cells that runs what a page is about: the board of its first list of fates, as long as the page's
 * first trace of that board lasts. `undefined` where the page has no such cells.
 */
export function openingRun(page: Json): OpeningRunPlan | undefined {
  const cells = cellsOf(page);
  const fates = cells.find(({ kind }) => kind === 'fates');
  const board = fates === undefined ? undefined : boardOf(fates);
  const timer = fates === undefined ? undefined : textField(fates.data, 'timer');
  const until = cells.find((cell) => cell.kind === 'trace' && boardOf(cell) === board)?.data['until'];
  const data = board === undefined ? undefined : valueAt(page, ['boards', board]);
  if (board === undefined || timer === undefined || until === undefined || data === undefined) return undefined;
  const part = boardParts(page, board).find(({ name }) => name === timer);
  const { trigger, output } = part === undefined ? {} : terminalNets(part);
  if (trigger === undefined || output === undefined) return undefined;
  const knobs = cells.find((cell) => cell.kind === 'board' && boardOf(cell) === board)?.data['knobs'];
  const knob = (isList(knobs) ? knobs : []).find((each) => typeof each === 'string' && !isCellKnob(each));
  if (typeof knob !== 'string') return undefined;
  const document = {
    format: 'two-thirds',
    version: 1,
    boards: { [board]: data },
    page: [
      { id: STRIP, kind: 'trace', board, until, show: [trigger, output] },
      { id: TOLD, kind: 'fates', board, until, timer },
    ],
  };
  return { document, knob };
}
