import type { CaptureOutcome, CaptureRequest, CellResult } from '@two-thirds/sim/document';
import type { PackedResult } from './packed-result.ts';

/** One request to compute cells of a document. */
export interface Job {
  /** The document as the text of a file. */
  readonly text: string;
  /** The cells to compute, in this order; those of a batch together. */
  readonly batches: readonly (readonly string[])[];
  /** Columns of a trace lane. */
  readonly columns: number;
  /** Instants (s) at which traces give the exact state as well; none if not given. */
  readonly instants?: readonly number[];
}

/** What the worker reports while it works. `run` is the number that was given with the job. */
export interface RunListener {
  /** The worker is there and hears what it is asked. */
  ready(): void;
  /** Cells have been computed, each to a result or to a fault: those of one batch together. */
  results(run: number, results: readonly (readonly [id: string, result: CellResult])[]): void;
  /** A share, 0 to 1, of a cell is computed. */
  progress(run: number, id: string, share: number): void;
  /** The document cannot be used at all; no cell was computed. */
  refused(run: number, message: string): void;
}

/** The same, with results as they travel. */
export type SentListener = Omit<RunListener, 'results' | 'ready'> & {
  results(run: number, results: readonly (readonly [id: string, result: PackedResult])[]): void;
};

/** The worker as seen from the page. Calls are answered one after the other. */
export interface SimulationWorker {
  /** Names who hears of results; to be called once, first. */
  connect(listener: SentListener): Promise<void>;
  /** Computes; what one document after another has in common is done once. Settles when every cell was reported, or when the run was cancelled between two batches. */
  compute(run: number, job: Job): Promise<void>;
  /** Ends a run before its next batch. A batch that is being computed can only be ended by ending the worker. */
  cancel(run: number): Promise<void>;
}

/** How many jobs a study has. */
export interface StudySize {
  readonly count: number;
  /** How many of them, from 0 on, others follow from; 0 for none. */
  readonly first: number;
  /** Number of the first one that follows from them. */
  readonly following: number;
}

/** A worker that runs jobs of studies: cells that compute many runs. Studies are told apart by numbers. */
export interface StudyWorker {
  /**
   * Opens the study of a cell; gives the number of its jobs, or null where the cell is at fault.
   *
   * @param capture what was read from the file of the cell, where it names one.
   */
  openStudy(study: number, text: string, cell: string, capture?: CaptureOutcome): Promise<StudySize | null>;
  /** Takes what jobs gave elsewhere, so that later jobs need not run them here. */
  giveJobs(study: number, jobs: readonly (readonly [index: number, job: string])[]): Promise<void>;
  /** Runs one job of an open study; gives what came of it as text, which can be carried to another worker. */
  runJob(study: number, index: number): Promise<string>;
  /** Adds what jobs gave, wherever they were run, and makes a result of all that was added so far. */
  collectJobs(study: number, jobs: readonly (readonly [index: number, job: string])[]): Promise<CellResult>;
  /** Forgets a study. */
  closeStudy(study: number): Promise<void>;
}

/** A worker that reads files of measurements. */
export interface CaptureWorker {
  /** Reads a measurement in bounded memory. @param report hears the share that is read, 0 to 1. */
  readCapture(file: Blob, request: CaptureRequest, report: (share: number) => void): Promise<CaptureOutcome>;
}
