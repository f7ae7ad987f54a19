import { spokenName } from '@two-thirds/sim/quantity';
import { isCellKnob, knobsOfCells } from '@two-thirds/sim/document';
import type { KnobBounds } from '../edit/bounded-scale.ts';
import { boardParts, valueChange } from '../edit/board-values.ts';
import type { Edit } from '../edit/history.ts';
import { isList, type Json } from '../edit/json.ts';
import type { Measure } from '../edit/measure.ts';
import { valueView } from './board-view.ts';
import { documentValue } from './value-edit.ts';
import { cellValueEdit, cellValues } from './cell-values.ts';
import { limitlessWord } from './value-words.ts';
import { type CellStates, stateOf } from './cell-state.ts';
import { boardOf, cellsOf, type PageCell } from './cells.ts';
import { complaintsOf, placedAtParts, sortComplaints } from './issues.ts';
import { boardResult } from './page-view.ts';

/** One knob of the tray. */
export interface TrayKnob {
  /** As the document names it, for example `G1.wave.period` or `#look.until`. */
  readonly name: string;
  /** The part whose value it turns; absent for a number of a cell. */
  readonly part?: string;
  /** The same to people: `G1 period`, `S1 press 1 for`, `look until`. */
  readonly short: string;
  /** What is turned, in words. */
  readonly label: string;
  readonly measure: Measure;
  /** The word for infinity. */
  readonly limitless: string;
  /** SI units; `undefined` where what was typed cannot be read. */
  readonly value: number | undefined;
  readonly text: string;
  /** The value the document was opened with. */
  readonly nominal: number | undefined;
  readonly complaint: string | undefined;
  /** Where it stops, if not at the ends of its tape. */
  readonly bounds?: KnobBounds;
  /** The edit that sets it to this text; edits of one turn join into one step of undo. */
  edit(text: string, turning: boolean): Edit | undefined;
}

/**
 * The knobs of a board: the values and the numbers of cells that its board cells name, each once, in their order. A name
 * that leads to no number gives no knob.
 *
 * @param opened the document as it was opened.
 */
export function trayKnobs(
  document: Json,
  opened: Json,
  cells: readonly PageCell[],
  states: CellStates,
  board: string,
): TrayKnob[] {
  const result = boardResult(cells, states, board);
  const boardCells = cells.filter((cell) => cell.kind === 'board' && boardOf(cell) === board);
  const names = boardCells.flatMap((cell) => (isList(cell.data['knobs']) ? cell.data['knobs'] : []));
  const faults = boardCells.flatMap((cell) => complaintsOf(stateOf(states, cell.id).fault));
  const complaints = placedAtParts(faults, board, boardParts(document, board));
  return [...new Set(names.filter((name) => typeof name === 'string'))].flatMap((name) => {
    if (isCellKnob(name)) return cellKnobs(document, opened, cells, states, board, name);
    const view = valueView(document, board, name, result);
    if (view?.measure === undefined) return [];
    const knob: TrayKnob = {
      name,
      part: view.place.part,
      short: spokenName(name),
      label: `${view.place.part} ${view.title}`,
      measure: view.measure,
      limitless: limitlessWord(view.place.steps),
      value: view.value,
      text: view.text,
      nominal: valueView(opened, board, name, result)?.value,
      complaint: sortComplaints(complaints, [view.name]).atField.get(view.name),
      edit: (text, turning) => {
        const change = valueChange(document, board, view.place, documentValue(view, text));
        if (change === undefined) return undefined;
        return {
          ...change,
          label: `${spokenName(name)} to ${text}`,
          ...(turning ? { joins: `knob ${board} ${name}` } : {}),
        };
      },
    };
    return [knob];
  });
}

/** The knob of a number of a cell; none where the cell looks at another board. */
function cellKnobs(
  document: Json,
  opened: Json,
  cells: readonly PageCell[],
  states: CellStates,
  board: string,
  name: string,
): TrayKnob[] {
  const cell = cells.find(({ id }) => name.startsWith(`#${id}.`));
  if (cell === undefined || (boardOf(cell) ?? board) !== board) return [];
  const view = cellValues(document, cell).find(({ knob }) => knob === name);
  if (view === undefined) return [];
  const before = cellsOf(opened).find(({ id }) => id === cell.id);
  const nominal = before === undefined ? undefined : cellValues(opened, before).find(({ knob }) => knob === name);
  const complaints = complaintsOf(stateOf(states, cell.id).fault);
  return [
    {
      name,
      short: view.title,
      label: view.title,
      measure: view.measure,
      limitless: limitlessWord(view.steps),
      value: view.value,
      text: view.text,
      nominal: nominal?.measure === view.measure ? nominal.value : undefined,
      complaint: sortComplaints(complaints, [view.place]).atField.get(view.place),
      bounds: view.bounds,
      edit: (text, turning) => {
        const edit = cellValueEdit(cell, view, text);
        return edit === undefined || !turning ? edit : { ...edit, joins: `knob ${board} ${name}` };
      },
    },
  ];
}

/** Keeps the knobs of a board from one step of a computation to the next, as long as nothing changes that they tell. */
export class KeptKnobs {
  private from: readonly unknown[] = [];
  private knobs: readonly TrayKnob[] = [];

  /** See {@link trayKnobs}; the very same list where everything is as it was. No board has no knobs. */
  of(
    document: Json,
    opened: Json,
    cells: readonly PageCell[],
    states: CellStates,
    board: string | undefined,
  ): readonly TrayKnob[] {
    const own = cells.filter((cell) => cell.kind === 'board' && boardOf(cell) === board);
    const turned = own.flatMap(({ data }) => knobsOfCells(data));
    const named = cells.filter(({ id }) => turned.some((knob) => knob.startsWith(`#${id}.`)));
    const known = [...own, ...named].map(({ id }) => stateOf(states, id)).flatMap(({ shown, fault }) => [shown, fault]);
    const from = [document, opened, cells, board, ...known];
    if (from.length !== this.from.length || from.some((each, index) => each !== this.from[index])) {
      this.from = from;
      this.knobs = board === undefined ? [] : trayKnobs(document, opened, cells, states, board);
    }
    return this.knobs;
  }
}
