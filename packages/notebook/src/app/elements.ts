import { Ask } from '../elements/tt-ask.ts';
import { Board } from '../elements/tt-board.ts';
import { Cell } from '../elements/tt-cell.ts';
import { CellStateLine } from '../elements/tt-cell-state.ts';
import { ChosenPart } from '../elements/tt-chosen-part.ts';
import { CircuitInHand } from '../elements/tt-circuit.ts';
import { CircuitDrawing } from '../elements/tt-drawing.ts';
import { BoardDrawings } from '../elements/tt-drawings.ts';
import { DataTables } from '../elements/tt-data-tables.ts';
import { Expression } from '../elements/tt-expression.ts';
import { Fates } from '../elements/tt-fates.ts';
import { Formula } from '../elements/tt-formula.ts';
import { FoldedCell } from '../elements/tt-folded.ts';
import { GoOn } from '../elements/tt-go-on.ts';
import { HandsOn } from '../elements/tt-hands-on.ts';
import { Knob } from '../elements/tt-knob.ts';
import { LaneTools } from '../elements/tt-lane-tools.ts';
import { FamilyChanges } from '../elements/tt-family-changes.ts';
import { Links } from '../elements/tt-links.ts';
import { Listen } from '../elements/tt-listen.ts';
import { Margin } from '../elements/tt-margin.ts';
import { Note } from '../elements/tt-note.ts';
import { Notebook } from '../elements/tt-notebook.ts';
import { Particulars } from '../elements/tt-particulars.ts';
import { NoticeLines } from '../elements/tt-notices.ts';
import { OpeningRun } from '../elements/tt-opening-run.ts';
import { Overview } from '../elements/tt-overview.ts';
import { Parts } from '../elements/tt-parts.ts';
import { PlainFields } from '../elements/tt-plain-fields.ts';
import { PredictionField } from '../elements/tt-prediction.ts';
import { PressButton } from '../elements/tt-press.ts';
import { Reading } from '../elements/tt-reading.ts';
import { RunningTrace } from '../elements/tt-running-trace.ts';
import { Rows } from '../elements/tt-rows.ts';
import { Safety } from '../elements/tt-safety.ts';
import { Start } from '../elements/tt-start.ts';
import { Trace } from '../elements/tt-trace.ts';
import { TraceTable } from '../elements/tt-trace-table.ts';
import { Tray } from '../elements/tt-tray.ts';
import { ValueField } from '../elements/tt-value.ts';
import { WhatIfs } from '../elements/tt-what-if.ts';
import { App } from './tt-app.ts';

/** Every element of the notebook by its tag but those of `study-elements.ts`. */
export const elements: Readonly<Record<string, CustomElementConstructor>> = {
  'tt-app': App,
  'tt-ask': Ask,
  'tt-board': Board,
  'tt-cell': Cell,
  'tt-cell-state': CellStateLine,
  'tt-chosen-part': ChosenPart,
  'tt-circuit': CircuitInHand,
  'tt-data-tables': DataTables,
  'tt-drawing': CircuitDrawing,
  'tt-drawings': BoardDrawings,
  'tt-expression': Expression,
  'tt-family-changes': FamilyChanges,
  'tt-fates': Fates,
  'tt-formula': Formula,
  'tt-folded': FoldedCell,
  'tt-go-on': GoOn,
  'tt-hands-on': HandsOn,
  'tt-knob': Knob,
  'tt-lane-tools': LaneTools,
  'tt-links': Links,
  'tt-listen': Listen,
  'tt-margin': Margin,
  'tt-note': Note,
  'tt-notebook': Notebook,
  'tt-particulars': Particulars,
  'tt-notices': NoticeLines,
  'tt-opening-run': OpeningRun,
  'tt-overview': Overview,
  'tt-parts': Parts,
  'tt-plain-fields': PlainFields,
  'tt-prediction': PredictionField,
  'tt-press': PressButton,
  'tt-reading': Reading,
  'tt-running-trace': RunningTrace,
  'tt-rows': Rows,
  'tt-safety': Safety,
  'tt-start': Start,
  'tt-trace': Trace,
  'tt-trace-table': TraceTable,
  'tt-tray': Tray,
  'tt-value': ValueField,
  'tt-what-if': WhatIfs,
};
