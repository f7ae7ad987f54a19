export type { Issue } from '../core/errors.ts';
export { type BoardTable, checkBoards, type FaultyBoard, type GoodBoard } from './board-table.ts';
export { CELL_KINDS, MOST_LANES, MOST_READINGS, MOST_SERIES } from './cell-schema.ts';
export { computeCell, computeDocument, type ComputeDocumentOptions, type ComputeOptions } from './compute-document.ts';
export { DocumentSession, type SessionComputation, type SessionOptions } from './document-session.ts';
export { captureFiles, type CaptureFile } from './capture-files.ts';
export type { Captures } from './capture-request.ts';
export { type CaptureOutcome, CaptureReader, type CaptureRequest } from '../capture/capture-reader.ts';
export { type CaptureColumn, captureColumns } from '../capture/capture-head.ts';
export { cellKnob, findCellNumber, type FoundNumber, isCellKnob, knobsOfCells } from './cell-knob.ts';
export { type CellNumber, cellNumbers, LONGEST_LIST, longLists } from './cell-numbers.ts';
export { cellCsv, type CsvFile } from './cell-csv.ts';
export { offText, setText } from './choose-words.ts';
export { circuitSubject } from './circuit-subject.ts';
export { quoteText } from './compute-note.ts';
export { documentStudies, type DocumentStudiesOptions, type DocumentStudy } from './document-studies.ts';
export { cellNeeds } from './dependencies.ts';
export { resultSources, sameSources, type SourceDocument } from './result-sources.ts';
export { type FaultChange, faultyEntries } from './fault-change.ts';
export { kindFields, type KindField } from './kind-fields.ts';
export { findValue, type FoundPath, mainFields, type ValuePath, valueAlong, withValue } from './knob.ts';
export { type FormulaParser, formulaFunctions, formulaWords } from '../formula/index.ts';
export {
  type AskCell,
  type BoardCell,
  type Cell,
  type ClaimCell,
  COLUMNS,
  EVENT_BUDGET,
  type FatesCell,
  FORMAT,
  type FormulaCell,
  LISTED_MOST,
  LONGEST_DOCUMENT,
  type NotebookDocument,
  type NoteCell,
  type ReadingCell,
  type RunCell,
  type Section,
  SECTIONS,
  SYMBOL_STANDARDS,
  type SymbolStandard,
  type TraceCell,
  VERSION,
} from './notebook-document.ts';
export { innerUnit, memberUnits } from './part-rows.ts';
export { checkDocument, parseDocument, type ParsedDocument } from './parse-document.ts';
export { findQuotes, type Quote, replaceQuotes, splitTarget } from './quotes.ts';
export { claimTrialsFor, formulasFor, loadDocument, type LoadedDocument } from './load-formulas.ts';
export { studyKinds } from './study-kinds.ts';
export type { KnownChecks } from './known-checks.ts';
export { cellKey, readCell, type ReadCell } from './read-cell.ts';
export type * from './results.ts';
export { fault } from './schema-wording.ts';
export { readingNames } from '../measure/reading-names.ts';
export { amountText, numberText, valueText } from './value-text.ts';
export { quantityText } from '../study/sweep-words.ts';
export { apartText, errorText, isPlainNumber } from '../study/claim-words.ts';
export { familyChanges, type FamilyChange, familyParameters, type FamilyParameter } from '../device/family-changes.ts';
export { documentsNamed } from '../device/family-documents.ts';
export { timerFamilies, type TimerFamily, timerParameters } from '../device/families.ts';
