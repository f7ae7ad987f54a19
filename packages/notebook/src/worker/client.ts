import type { CellResult } from '@two-thirds/sim/document';
import type { Awaited } from '../runtime/waiting-words.ts';
import type { Job, RunListener, SimulationWorker } from './protocol.ts';

/** A running worker and the means to end it. */
export interface WorkerHandle {
  readonly simulation: SimulationWorker;
  terminate(): void;
}

/** Starts a worker that reports to this listener. */
export type StartWorker = (listener: RunListener, failed: (message: string) => void) => WorkerHandle;

/** What the page hears. `newest` is false when a newer job was asked for meanwhile. */
export interface JobListener {
  /** The worker is there. */
  ready?(): void;
  result(id: string, result: CellResult, newest: boolean): void;
  progress(id: string, share: number): void;
  /** Nothing could be computed: an unusable document, or a worker that broke down. */
  failed(message: string): void;
  /** The newest job is done. */
  settled(): void;
}

/** How long a run that a newer edit has overtaken may go on (ms): long enough that a turning knob drags traces along. */
const OVERTAKEN_GRACE = 120;
/** How long after that it may take to come to the end of a batch (ms). */
const BATCH_GRACE = 120;

/**
 * Runs jobs in a worker, one at a time; the newest wins. A job that was overtaken goes on for a moment, so that its
 * results can still be shown, then it is cancelled between two batches, then its worker is ended and replaced.
 */
export class SimulationClient {
  private handle: WorkerHandle | undefined;
  /** What is computed, and how many of its batches are done. */
  private current: { readonly run: number; readonly job: Job; done: number } | undefined;
  private isReady = false;
  private next: Job | undefined;
  private hurry: ReturnType<typeof setTimeout> | undefined;
  private runs = 0;
  private readonly startWorker: StartWorker;
  private readonly listener: JobListener;

  constructor(startWorker: StartWorker, listener: JobListener) {
    this.startWorker = startWorker;
    this.listener = listener;
  }

  /** Computes this job as soon as possible, instead of any that was asked for before. */
  run(job: Job): void {
    if (this.current === undefined) {
      this.start(job);
      return;
    }
    this.next = job;
    this.hurry ??= setTimeout(() => this.cancelCurrent(), OVERTAKEN_GRACE);
  }

  /** Ends all work at once. */
  stop(): void {
    this.endWorker();
    this.next = undefined;
  }

  /** What a cell that was asked for waits for: cells that are computed now, itself among them once it is its turn. */
  awaited(id: string): Awaited {
    if (!this.isReady) return 'engine';
    const { batches } = this.current?.job ?? { batches: [] };
    const atWork = this.current?.done ?? 0;
    return this.next !== undefined || !batches.slice(atWork).some((batch) => batch.includes(id))
      ? 'run before'
      : (batches[atWork] ?? []);
  }

  private start(job: Job): void {
    this.runs += 1;
    const run = this.runs;
    this.current = { run, job, done: 0 };
    const handle = this.handle ?? this.newWorker();
    handle.simulation.compute(run, job).then(
      () => this.finish(run),
      (error: unknown) => this.breakDown(error instanceof Error ? error.message : String(error), run),
    );
  }

  private newWorker(): WorkerHandle {
    // What an ended worker still says is nothing to the one in its place.
    const listener: RunListener = { ...this.runListener(), ready: () => this.handle === handle && this.greet() };
    const handle: WorkerHandle = this.startWorker(listener, (message) => {
      if (this.handle === handle) this.lose(message);
    });
    this.handle = handle;
    return handle;
  }

  private finish(run: number): void {
    if (this.current?.run !== run) return;
    clearTimeout(this.hurry);
    this.hurry = undefined;
    this.current = undefined;
    const { next } = this;
    this.next = undefined;
    if (next === undefined) this.listener.settled();
    else this.start(next);
  }

  private cancelCurrent(): void {
    const run = this.current?.run;
    if (run === undefined) return;
    void this.handle?.simulation.cancel(run);
    this.hurry = setTimeout(() => {
      const { next } = this;
      this.endWorker();
      this.next = undefined;
      if (next !== undefined) this.start(next);
    }, BATCH_GRACE);
  }

  private endWorker(): void {
    clearTimeout(this.hurry);
    this.hurry = undefined;
    this.current = undefined;
    this.handle?.terminate();
    this.handle = undefined;
    this.isReady = false;
  }

  /** The worker is lost. Where it has nothing to do nobody hears of it, but it is not asked again. */
  private lose(message: string): void {
    if (this.current === undefined) this.endWorker();
    else this.breakDown(message, this.current.run);
  }

  private breakDown(message: string, run: number): void {
    if (this.current?.run !== run) return;
    this.stop();
    this.listener.failed(message);
  }

  private greet(): void {
    this.isReady = true;
    this.listener.ready?.();
  }

  private runListener(): Omit<RunListener, 'ready'> {
    const isCurrent = (run: number): boolean => this.current?.run === run;
    return {
      results: (run, results) => {
        if (this.current !== undefined && isCurrent(run)) this.current.done += 1;
        for (const [id, result] of results) {
          if (isCurrent(run)) this.listener.result(id, result, this.next === undefined);
        }
      },
      progress: (run, id, share) => {
        if (isCurrent(run)) this.listener.progress(id, share);
      },
      refused: (run, message) => {
        if (isCurrent(run)) this.listener.failed(message);
      },
    };
  }
}
