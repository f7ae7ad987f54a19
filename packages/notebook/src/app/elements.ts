import { Ask } from '../elements/tt-ask.ts';
import { Board } from '../elements/tt-board.ts';
import { Cell } from '../elements/tt-cell.ts';
import { CellStateLine } from '../elements/tt-cell-state.ts';
import { CaptureOverlay } from '../elements/tt-capture.ts';
import { CaptureSource } from '../elements/tt-capture-source.ts';
import { ChosenPart } from '../elements/tt-chosen-part.ts';
import { Choose } from '../elements/tt-choose.ts';
import { CircuitInHand } from '../elements/tt-circuit.ts';
import { Claim } from '../elements/tt-claim.ts';
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
import { StudyMap } from '../elements/tt-map.ts';
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
import { Seen } from '../elements/tt-seen.ts';
import { Spread } from '../elements/tt-spread.ts';
import { Start } from '../elements/tt-start.ts';
import { Study } from '../elements/tt-study.ts';
import { StudyPlan } from '../elements/tt-study-plan.ts';
import { Swaps } from '../elements/tt-swaps.ts';
import { Sweep } from '../elements/tt-sweep.ts';
import { Symptoms } from '../elements/tt-symptoms.ts';
import { Trace } from '../elements/tt-trace.ts';
import { TraceTable } from '../elements/tt-trace-table.ts';
import { Tray } from '../elements/tt-tray.ts';
import { ValueField } from '../elements/tt-value.ts';
import { WhatIfs } from '../elements/tt-what-if.ts';
import { App } from './tt-app.ts';

/** Every element of the notebook by its tag. */
export const elements: Readonly<Record<string, CustomElementConstructor>> = {
  'tt-app': App,
  'tt-ask': Ask,
  'tt-board': Board,
  'tt-capture': CaptureOverlay,
  'tt-capture-source': CaptureSource,
  'tt-cell': Cell,
  'tt-cell-state': CellStateLine,
  'tt-choose': Choose,
  'tt-chosen-part': ChosenPart,
  'tt-circuit': CircuitInHand,
  'tt-claim': Claim,
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
  'tt-map': StudyMap,
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
  'tt-seen': Seen,
  'tt-spread': Spread,
  'tt-start': Start,
  'tt-study': Study,
  'tt-study-plan': StudyPlan,
  'tt-swaps': Swaps,
  'tt-sweep': Sweep,
  'tt-symptoms': Symptoms,
  'tt-trace': Trace,
  'tt-trace-table': TraceTable,
  'tt-tray': Tray,
  'tt-value': ValueField,
  'tt-what-if': WhatIfs,
};
