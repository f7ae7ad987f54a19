/**
 * Two Thirds: exact simulation of boards around the 555-type timer. Circuits are plain data; `simulate` keeps a whole run
 * to ask questions of, `runCircuit` streams a run of any length to observers, `computeDocument` computes notebooks.
 */
export { type Issue, IssueError } from './core/errors.ts';
export { formatQuantity, parseQuantity, readQuantity, type Unit } from './quantity/index.ts';
export {
  cautions,
  checkCircuit,
  type Circuit,
  type CircuitData,
  dangers,
  type Part,
  type PartData,
} from './circuit/index.ts';
export { standardKinds } from './device/standard-kinds.ts';
export { familyChanges, type FamilyChange } from './device/family-changes.ts';
export { timerFamilies, timerParameters, type TimerFamily, type TimerParameters } from './device/families.ts';
export type { Outcome, OutcomeCode } from './engine/outcome.ts';
export { type Observer, type RunEvent, type SegmentView, StoredTrace } from './trace/index.ts';
export type { ReadingOutcome, TimerFacts, Window } from './measure/context.ts';
export { contactsOf } from './measure/contacts.ts';
export { edgeObserver } from './measure/edges.ts';
export { faultObserver } from './measure/faults.ts';
export { fateObserver, type FateLedgerResult } from './measure/fates.ts';
export { GrazeWatch } from './measure/grazes.ts';
export { parseReading } from './measure/parse-reading.ts';
export { readingObserver } from './measure/reading-observer.ts';
export { highLevel, runCircuit, type SimulateOptions, timersOf } from './run/simulate.ts';
export { compareStarts, OutputHistory, otherStart, powerUpRace, type StartComparison } from './run/power-up.ts';
export { type LiveCheckpoint, LiveRun, type LiveOptions } from './run/live-run.ts';
export type { Checkpoint } from './engine/checkpoint.ts';
export { type Run, type RunOptions, type SignalTrace, simulate } from './run/run.ts';
export { type Axis, linearPoints, logarithmicPoints, preferredPoints } from './study/axis.ts';
export { type ClaimOutcome, claimStudy } from './study/claim.ts';
export type { ClaimChoice, ClaimPlan } from './study/claim-plan.ts';
export { type ClaimTrials, loadClaimTrials } from './study/claim-trials.ts';
export { type ChooseOutcome, type ChoosePlan, chooseStudy } from './study/choose.ts';
export { type AlignBy } from './study/capture-align.ts';
export { type CaptureFit, type CaptureTask, fitCapture, type FreeValue } from './study/capture-fit.ts';
export {
  type CaptureOutcomes,
  type CapturePlan,
  captureStudy,
  type Suspect,
  type Trial,
} from './study/capture-study.ts';
export { type Capture } from './capture/capture.ts';
export { type CaptureOutcome, CaptureReader, type CaptureRequest, readCapture } from './capture/capture-reader.ts';
export { type MapOutcome, type MapPlan, mapStudy } from './study/map.ts';
export { type SpreadOutcome, type SpreadPlan, spreadStudy } from './study/spread.ts';
export { spreadFindings, type SpreadFindings } from './study/spread-findings.ts';
export { runStudy, runStudyInSteps, type Study, type StudyControl } from './study/study.ts';
export type { BuiltSubject, NamedValues, Subject } from './study/subject.ts';
export { type SwapsOutcome, type SwapsPlan, swapsStudy } from './study/swaps.ts';
export { type SymptomsOutcome, type SymptomsPlan, symptomsStudy } from './study/symptoms.ts';
export { type SweepOutcome, type SweepPlan, sweepStudy } from './study/sweep.ts';
export { predictBoard, readyBoards, type ReadyBoard } from './board/index.ts';
export {
  type CellResult,
  circuitSubject,
  claimTrialsFor,
  computeCell,
  computeDocument,
  type DocumentResults,
  formulasFor,
  loadDocument,
  documentStudies,
  type NotebookDocument,
  parseDocument,
} from './document/index.ts';
