import type { CellResult } from '@two-thirds/sim/document';
import type { Awaited } from '../runtime/waiting-words.ts';
import type { StudySize, StudyWorker } from './protocol.ts';
import { StudyTask, type StudyRequest } from './study-task.ts';

/** A running worker for studies and the means to end it. */
export interface StudyHandle {
  readonly worker: StudyWorker;
  terminate(): void;
}

/** What the page hears of studies. `newest` is false when values have changed meanwhile. */
export interface StudyListener {
  result(id: string, result: CellResult, newest: boolean): void;
  /** A result of the jobs that are done so far. */
  part(id: string, result: CellResult): void;
  progress(id: string, share: number): void;
  failed(message: string): void;
  /** All studies that were asked for are done. */
  settled(): void;
}

/** How long studies that a newer edit has overtaken may go on (ms): small ones then follow a knob while it turns. */
const OVERTAKEN_GRACE = 150;
/** How long after that a job may still take to come to its end before its worker is ended (ms). */
const JOB_GRACE = 600;

/**
 * Runs the jobs of studies in several workers at once; the newest edit wins. Jobs are dealt out by their number to
 * whichever worker is free, studies in the order in which they were asked for. Which worker ran a job makes no
 * difference to its result. Jobs that are done are kept as long as the study stays what it is: what was stopped goes on
 * from there, and a change that does not touch the runs costs none.
 */
export class StudyClient {
  private readonly start: (failed: (message: string) => void) => StudyHandle;
  private readonly size: number;
  private readonly listener: StudyListener;
  private readonly benches: Bench[] = [];
  private tasks: StudyTask[] = [];
  private next: StudyTask[] | undefined;
  private readonly kept = new Map<string, StudyTask>();
  private hurry: ReturnType<typeof setTimeout> | undefined;
  private numbers = 0;

  /** @param size how many workers share the jobs. */
  constructor(start: (failed: (message: string) => void) => StudyHandle, size: number, listener: StudyListener) {
    this.start = start;
    this.size = size;
    this.listener = listener;
  }

  /** Computes these studies of this document as soon as possible, instead of any that were asked for before. */
  run(text: string, wanted: readonly StudyRequest[]): void {
    const tasks = wanted.map((request) => {
      this.numbers += 1;
      return new StudyTask(this.numbers, text, request, this.kept.get(request.id));
    });
    const isOvertaken = this.tasks.some((task) => tasks.some((each) => each.id === task.id && !each.continues(task)));
    if (!isOvertaken) {
      this.adopt(tasks);
      return;
    }
    this.next = tasks;
    this.hurry ??= setTimeout(() => this.adoptNext(), OVERTAKEN_GRACE);
  }

  /** Ends all work at once; jobs that are done are kept. */
  stop(): void {
    this.calm();
    this.tasks = [];
    for (const bench of this.benches.splice(0)) bench.end();
  }

  /** Forgets all jobs as well. */
  clear(): void {
    this.stop();
    this.kept.clear();
  }

  /** What a study that was asked for waits for: the one that is computed now, itself once it is its turn. */
  awaited(id: string): Awaited {
    const own = this.tasks.find((task) => task.id === id);
    if (own === undefined || this.next !== undefined) return 'run before';
    if (own.isOpen) return [id];
    const atWork = this.tasks.find((task) => task.isOpen);
    return atWork === undefined ? 'engine' : [atWork.id];
  }

  private adoptNext(): void {
    const { next } = this;
    this.calm();
    if (next !== undefined) this.adopt(next);
  }

  private adopt(tasks: StudyTask[]): void {
    this.calm();
    for (const task of this.tasks) for (const bench of this.benches) bench.close(task);
    this.tasks = tasks;
    for (const task of tasks) this.kept.set(task.id, task);
    for (const bench of this.benches) this.replaceIfStuck(bench);
    if (tasks.length === 0) {
      this.listener.settled();
      return;
    }
    while (this.benches.length < this.size) this.benches.push(this.newBench());
    for (const task of tasks) if (task.isComplete) void this.collect(task);
    for (const bench of this.benches) void this.serve(bench);
  }

  private newBench(): Bench {
    const bench: Bench = new Bench(this.start, (message) => this.fail(bench, message));
    return bench;
  }

  private calm(): void {
    clearTimeout(this.hurry);
    this.hurry = undefined;
    this.next = undefined;
  }

  /** A worker whose job belongs to no study that is still wanted is waited for, but not for long. */
  private replaceIfStuck(bench: Bench): void {
    const { current } = bench;
    const isStuck = (): boolean =>
      current !== undefined && bench.current === current && !this.tasks.some((task) => task.continues(current));
    if (!isStuck()) return;
    setTimeout(() => {
      const index = this.benches.indexOf(bench);
      // Meanwhile its study may be wanted again.
      if (index < 0 || !isStuck()) return;
      bench.end();
      const fresh = this.newBench();
      this.benches[index] = fresh;
      // What it was to make results of is made by the one that takes its place.
      for (const task of bench.collecting) {
        task.endCollecting(0);
        if (this.tasks.includes(task)) this.advance(task);
      }
      void this.serve(fresh);
    }, JOB_GRACE);
  }

  /** Deals jobs to a worker until there are none. */
  private async serve(bench: Bench): Promise<void> {
    if (bench.current !== undefined) return;
    for (let task = this.waiting(); task !== undefined && !bench.isEnded; task = this.waiting()) {
      bench.current = task;
      try {
        const size = await bench.open(task);
        if (bench.isEnded) return;
        const isNew = !task.isOpen && size !== null;
        task.opened(size);
        if (isNew && this.tasks.includes(task) && this.next === undefined) this.listener.progress(task.id, 0);
        const index = this.tasks.includes(task) ? task.deal() : undefined;
        if (index !== undefined) {
          bench.job = index;
          if (task.isLater(index)) await bench.giveFirst(task);
          const job = await bench.handle.worker.runJob(task.number, index);
          if (bench.isEnded) return;
          task.done(index, job);
          // The last of the first jobs sets others free, for which idle workers may have waited.
          for (const each of this.benches) if (each.current === undefined) void this.serve(each);
        }
      } catch (error) {
        if (bench.isEnded) return;
        bench.dropJob();
        if (this.tasks.includes(task)) this.refuse(task, error);
      }
      bench.current = undefined;
      bench.job = undefined;
      // A job that began for a study of before counts for the one that continues it.
      const heir = this.tasks.find((each) => each.continues(task));
      if (heir !== undefined) this.advance(heir);
    }
  }

  private waiting(): StudyTask | undefined {
    return this.tasks.find((task) => task.hasWork);
  }

  private advance(task: StudyTask): void {
    if (this.next === undefined || this.next.some((each) => each.continues(task))) {
      this.listener.progress(task.id, task.share);
    }
    if (task.isComplete || task.isPartDue()) void this.collect(task);
  }

  /** Makes a result of what is done. One worker makes all results of a study, so that it needs every job once. */
  private async collect(task: StudyTask): Promise<void> {
    const [bench] = this.benches;
    if (bench === undefined || !task.beginCollecting()) return;
    bench.collecting.add(task);
    const wasComplete = task.isComplete;
    const begun = performance.now();
    try {
      await bench.open(task);
      const result = await bench.handle.worker.collectJobs(task.number, bench.unsent(task));
      if (bench.isEnded || !this.tasks.includes(task)) return;
      bench.collecting.delete(task);
      task.endCollecting(performance.now() - begun);
      if (wasComplete) this.finish(task, result);
      // Half of what values before would give says nothing of the present ones.
      else if (this.next === undefined) this.listener.part(task.id, result);
    } catch (error) {
      if (!bench.isEnded && this.tasks.includes(task)) this.refuse(task, error);
      return;
    }
    if (!wasComplete && task.isComplete) void this.collect(task);
  }

  /** A study broke down: the others go on. */
  private refuse(task: StudyTask, error: unknown): void {
    const reason = error instanceof Error ? error.message : String(error);
    this.kept.delete(task.id);
    this.finish(task, { kind: 'study', ok: false, error: { message: reason, where: 'page' } });
  }

  private finish(task: StudyTask, result: CellResult): void {
    this.tasks = this.tasks.filter((each) => each !== task);
    for (const bench of this.benches) bench.close(task);
    this.listener.result(task.id, result, this.next === undefined);
    if (this.tasks.length > 0) return;
    if (this.next === undefined) this.listener.settled();
    else this.adoptNext();
  }

  /** A worker is lost: with it all that is asked for. One that has nothing to do is not asked again, and nobody hears of it. */
  private fail(bench: Bench, message: string): void {
    if (this.tasks.length === 0) {
      bench.end();
      this.benches.splice(this.benches.indexOf(bench), 1);
      return;
    }
    this.stop();
    this.listener.failed(message);
  }
}

/** One worker with what it knows. */
class Bench {
  readonly handle: StudyHandle;
  /** The study whose job it runs. */
  current: StudyTask | undefined;
  /** The number of that job. */
  job: number | undefined;
  isEnded = false;
  /** The studies it is making results of. */
  readonly collecting = new Set<StudyTask>();
  private readonly known = new Map<number, { readonly size: Promise<StudySize | null>; readonly sent: Set<number> }>();

  constructor(start: (failed: (message: string) => void) => StudyHandle, failed: (message: string) => void) {
    this.handle = start((message) => {
      if (!this.isEnded) failed(message);
    });
  }

  open(task: StudyTask): Promise<StudySize | null> {
    const known = this.known.get(task.number);
    if (known !== undefined) return known.size;
    const size = this.handle.worker.openStudy(task.number, task.text, task.id, task.capture);
    this.known.set(task.number, { size, sent: new Set() });
    return size;
  }

  /** Hands on the jobs that others follow from, so that it need not run them as well. */
  async giveFirst(task: StudyTask): Promise<void> {
    const first = this.unsent(task, (index) => task.isFirst(index));
    if (first.length > 0) await this.handle.worker.giveJobs(task.number, first);
  }

  /** The jobs that it has not been given yet. @param which those that it is to be given; all if left out. */
  unsent(task: StudyTask, which: (index: number) => boolean = () => true): [number, string][] {
    const sent = this.known.get(task.number)?.sent ?? new Set();
    const jobs = [...task.jobs].filter(([index]) => !sent.has(index) && which(index));
    for (const [index] of jobs) sent.add(index);
    return jobs;
  }

  close(task: StudyTask): void {
    if (!this.known.delete(task.number) || this.isEnded) return;
    void this.handle.worker.closeStudy(task.number);
  }

  /** Gives back the job it has, which comes to nothing here. */
  dropJob(): void {
    if (this.job !== undefined) this.current?.lost(this.job);
  }

  end(): void {
    this.isEnded = true;
    this.dropJob();
    this.handle.terminate();
  }
}
