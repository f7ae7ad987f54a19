import type { TraceResult } from '@two-thirds/sim/document';
import type { Window } from '../chart/view.ts';
import type { Edit, History } from '../edit/history.ts';
import type { Prediction } from '../runtime/predictions.ts';

const passing = { bubbles: true, composed: true };

/** Somebody changed a value or a text of the document. */
export class EditEvent extends Event {
  readonly edit: Edit;

  constructor(edit: Edit) {
    super('tt-edit', passing);
    this.edit = edit;
  }
}

/** A run of joined edits is over: a knob was let go, a text field left. */
export class SettleEvent extends Event {
  constructor() {
    super('tt-settle', passing);
  }
}

/** The time cursor of a board was moved; seconds. */
export class CursorEvent extends Event {
  readonly cell: string;
  readonly time: number;

  constructor(cell: string, time: number) {
    super('tt-cursor', passing);
    this.cell = cell;
    this.time = time;
  }
}

/** Another part of a trace is looked at, or it is known in detail now. */
export class LookEvent extends Event {
  /** What is looked at (s); undefined for the whole. */
  readonly view: Window | undefined;
  /** It in detail, once that is computed. */
  readonly detail: TraceResult | undefined;

  constructor(view: Window | undefined, detail: TraceResult | undefined) {
    super('tt-look');
    this.view = view;
    this.detail = detail;
  }
}

/** A part was chosen, in a drawing or a list; its knob and its values come forward. */
export class PartEvent extends Event {
  readonly part: string;

  constructor(part: string) {
    super('tt-part', passing);
    this.part = part;
  }
}

/** A quoted number was followed to the cell it comes from. */
export class CellLinkEvent extends Event {
  readonly cell: string;

  constructor(cell: string) {
    super('tt-cell-link', passing);
    this.cell = cell;
  }
}

/** Somebody stopped the computation, or asked for it again. */
export class RunEvent extends Event {
  readonly wish: 'stop' | 'again';

  constructor(wish: 'stop' | 'again') {
    super('tt-run', passing);
    this.wish = wish;
  }
}

/** The open document has a new present: an edit, an undo, a redo. */
export class HistoryEvent extends Event {
  readonly history: History;

  constructor(history: History) {
    super('tt-history', passing);
    this.history = history;
  }
}

/** A prediction was written, or its result asked for. */
export class PredictionEvent extends Event {
  readonly cell: string;
  readonly prediction: Prediction;
  /** What the step of undo is called, where it is to be one: a result that is held back again. */
  readonly label: string | undefined;

  constructor(cell: string, prediction: Prediction, label?: string) {
    super('tt-prediction', passing);
    this.cell = cell;
    this.prediction = prediction;
    this.label = label;
  }
}

/** Other cells of the page are folded than before; their ids. */
export class FoldedEvent extends Event {
  readonly folded: readonly string[];

  constructor(folded: readonly string[]) {
    super('tt-folded', passing);
    this.folded = folded;
  }
}

/** What can be done to the cells of a page as a whole. Where a cell is added, `after` is the cell it goes below. */
export type CellCommand =
  | { readonly act: 'open' | 'delete' | 'duplicate' | 'fold'; readonly cell: string }
  | { readonly act: 'rename'; readonly cell: string; readonly to: string }
  | { readonly act: 'move' | 'step'; readonly cell: string; readonly places: number }
  | { readonly act: 'add'; readonly after: string | undefined; readonly kind: string }
  | { readonly act: 'add-bare'; readonly after: string | undefined }
  | { readonly act: 'add-ready' | 'add-board'; readonly after: string | undefined; readonly name: string };

/** Somebody wants a cell added, moved, folded or taken out. */
export class CommandEvent extends Event {
  readonly command: CellCommand;

  constructor(command: CellCommand) {
    super('tt-command', passing);
    this.command = command;
  }
}

declare global {
  interface HTMLElementEventMap {
    'tt-edit': EditEvent;
    'tt-settle': SettleEvent;
    'tt-cursor': CursorEvent;
    'tt-look': LookEvent;
    'tt-part': PartEvent;
    'tt-cell-link': CellLinkEvent;
    'tt-run': RunEvent;
    'tt-history': HistoryEvent;
    'tt-prediction': PredictionEvent;
    'tt-folded': FoldedEvent;
    'tt-command': CommandEvent;
  }
}
