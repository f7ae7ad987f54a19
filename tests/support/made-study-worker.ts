import type { StudyWorker } from '#notebook/worker/protocol.ts';
import type { StudyHandle } from '#notebook/worker/study-client.ts';
import type { CellResult } from '#sim/document/index.ts';

/** One state of one study of a made page: all that a made worker needs to know of it. */
export interface MadeStudy {
  /** Tells states of the page apart. */
  readonly edit: number;
  /** What the jobs depend on: the same lineage has the same jobs. */
  readonly lineage: number;
  readonly count: number;
  readonly first: number;
  readonly isFaulty: boolean;
}

/** What a made study gives: which state of the page it was made of, and the jobs that went into it. */
export interface MadeResult {
  readonly ok: boolean;
  readonly edit: number;
  readonly jobs: readonly number[];
}

/** A message that waits to be taken. */
interface Message {
  readonly give: () => unknown;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
  /** The job that is run, if one is. */
  readonly job: string | undefined;
  /** Whether it can be refused, and has an answer that somebody waits for. */
  readonly isAsked: boolean;
}

/** What all workers of one page have done together, and whether it was what they may do. */
export class MadeWorkers {
  readonly all: MadeWorker[] = [];
  /** What must not have happened. */
  readonly faults: string[] = [];
  /** The jobs that were answered. */
  readonly done = new Set<string>();

  /** Starts one more. */
  readonly start = (failed: (message: string) => void): StudyHandle => {
    const worker = new MadeWorker(this, failed);
    this.all.push(worker);
    return { worker: worker.asked, terminate: () => worker.end() };
  };

  /** Those that are there. */
  get alive(): MadeWorker[] {
    return this.all.filter((each) => !each.isEnded);
  }
}

/**
 * A worker for studies that runs nothing: it takes one message after the other, as a worker does, but only when the test
 * says so. Texts hold a {@link MadeStudy} for each cell.
 */
export class MadeWorker {
  isEnded = false;
  /** Whether it has broken down: it takes no message any more. */
  isLost = false;
  readonly asked: StudyWorker;
  private messages: Message[] = [];
  private readonly workers: MadeWorkers;
  private readonly failed: (message: string) => void;
  private readonly named = new Map<number, string>();
  private readonly open = new Map<number, { readonly study: MadeStudy; readonly jobs: Map<number, string> }>();

  constructor(workers: MadeWorkers, failed: (message: string) => void) {
    this.workers = workers;
    this.failed = failed;
    this.asked = {
      openStudy: (number, text, cell) => {
        const study = (JSON.parse(text) as Record<string, MadeStudy>)[cell];
        if (study === undefined) throw new Error(`made page: ${cell} must be on it; got ${text}.`);
        this.named.set(number, `${cell} ${study.lineage}`);
        return this.ask(() => {
          this.open.set(number, { study, jobs: new Map() });
          return study.isFaulty ? null : { count: study.count, first: study.first, following: study.first };
        });
      },
      giveJobs: (number, jobs) => this.ask(() => this.add(number, jobs)),
      runJob: (number, index) => {
        const job = this.jobName(number, index);
        if (workers.all.some((each) => each.isRunning(job)))
          workers.faults.push(`${job} is run twice at the same time`);
        if (workers.done.has(job)) workers.faults.push(`${job} is run again`);
        return this.ask(() => {
          const { study, jobs } = this.known(number);
          for (let each = 0; each < study.first && index >= study.first; each++) {
            if (!jobs.has(each)) workers.faults.push(`${job} is run where job ${each} is not known`);
          }
          workers.done.add(job);
          return job;
        }, job);
      },
      collectJobs: (number, jobs) =>
        this.ask(() => {
          this.add(number, jobs);
          const { study, jobs: given } = this.known(number);
          const result: MadeResult = {
            ok: !study.isFaulty,
            edit: study.edit,
            jobs: [...given.keys()].sort((a, b) => a - b),
          };
          return result as unknown as CellResult;
        }),
      closeStudy: (number) => this.ask(() => void this.open.delete(number), undefined, false),
    };
  }

  /** Whether a message waits that somebody wants to have answered. */
  get isAsked(): boolean {
    return !this.isLost && this.messages.some((each) => each.isAsked);
  }

  /** Takes the next message that has an answer. @param error what goes wrong with it, if something does. */
  take(error?: Error): void {
    while (!this.isEnded && !this.isLost) {
      const message = this.messages.shift();
      if (message === undefined) return;
      try {
        if (message.isAsked && error !== undefined) throw error;
        message.resolve(message.give());
      } catch (cause) {
        message.reject(cause as Error);
      }
      if (message.isAsked) return;
    }
  }

  /** Breaks down and says so. */
  lose(): void {
    this.isLost = true;
    this.failed('lost');
  }

  /** Ends it: it never answers. */
  end(): void {
    this.isEnded = true;
    this.messages = [];
  }

  private isRunning(job: string): boolean {
    return !this.isEnded && this.messages.some((message) => message.job === job);
  }

  private ask<T>(give: () => T, job?: string, isAsked = true): Promise<T> {
    if (this.isEnded) this.workers.faults.push('a worker that was ended is asked');
    return new Promise((resolve, reject) => {
      this.messages.push({ give, resolve: resolve as (value: unknown) => void, reject, job, isAsked });
    });
  }

  private jobName(number: number, index: number): string {
    return `${this.named.get(number) ?? 'none'} ${index}`;
  }

  private add(number: number, jobs: readonly (readonly [number, string])[]): void {
    const { jobs: given } = this.known(number);
    for (const [index, job] of jobs) {
      if (job !== this.jobName(number, index))
        this.workers.faults.push(`${this.jobName(number, index)} is given ${job}`);
      given.set(index, job);
    }
  }

  private known(number: number): { readonly study: MadeStudy; readonly jobs: Map<number, string> } {
    const known = this.open.get(number);
    if (known === undefined) throw new RangeError(`study ${number} must be open`);
    return known;
  }
}
