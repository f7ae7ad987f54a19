import type { CaptureOutcome } from '@two-thirds/sim/document';
import type { StudySize } from './protocol.ts';

/** A study that is wanted. */
export interface StudyRequest {
  /** Id of its cell. */
  readonly id: string;
  /** Everything that the runs of the study depend on, as text: jobs of equal signatures give the same. */
  readonly signature: string;
  /** What was read from the file of the cell, where it names one. */
  readonly capture?: CaptureOutcome | undefined;
}

/** Shortest time between two results of jobs done so far (ms), and how many times as long as making one takes. */
const PART_PAUSE = 200;
const PART_SHARE = 5;

/** The size of a study that has no jobs. */
const NONE: StudySize = { count: 0, first: 0, following: 0 };

/** One study of one state of the document: which of its jobs are dealt out, and what came of them. */
export class StudyTask {
  readonly number: number;
  readonly text: string;
  readonly id: string;
  readonly capture: CaptureOutcome | undefined;
  /** What the jobs gave, by number. */
  readonly jobs: Map<number, string>;
  private readonly signature: string;
  private size: StudySize | undefined;
  /** Jobs that a worker has or had; shared, like `jobs`, with the task this one continues. */
  private readonly dealt: Set<number>;
  private isFaulty = false;
  private isCollecting = false;
  private nextPart = 0;

  /** @param before the task of the same cell before, whose jobs are taken over where they would give the same again. */
  constructor(number: number, text: string, { id, signature, capture }: StudyRequest, before: StudyTask | undefined) {
    this.number = number;
    this.text = text;
    this.id = id;
    this.capture = capture;
    this.signature = signature;
    const same = before?.signature === signature && !before.isFaulty ? before : undefined;
    this.jobs = same?.jobs ?? new Map<number, string>();
    this.size = same?.size;
    this.dealt = same?.dealt ?? new Set();
  }

  /** Whether it needs the same jobs as another task. */
  continues(other: StudyTask): boolean {
    return this.jobs === other.jobs;
  }

  /** Takes note of the number of jobs; null for a cell at fault, which has a result without any. */
  opened(size: StudySize | null): void {
    this.size = size ?? NONE;
    this.isFaulty = size === null;
  }

  /** Whether a worker has read what it is. */
  get isOpen(): boolean {
    return this.size !== undefined;
  }

  /** Whether it has something for a worker to do now: later jobs wait for those they follow from. */
  get hasWork(): boolean {
    return this.size === undefined || this.dealt.size < this.ready;
  }

  /** Whether others follow from a job. */
  isFirst(index: number): boolean {
    return index < (this.size ?? NONE).first;
  }

  /** Whether a job follows from the first ones. */
  isLater(index: number): boolean {
    return index >= (this.size ?? NONE).following;
  }

  /** How many jobs may be dealt out, from 0 on. */
  private get ready(): number {
    const { count, first, following } = this.size ?? NONE;
    for (let index = 0; index < first; index++) if (!this.jobs.has(index)) return following;
    return count;
  }

  /** Gives out the number of a job, the lowest that nobody has. */
  deal(): number | undefined {
    for (let index = 0, { ready } = this; index < ready; index++) {
      if (this.dealt.has(index)) continue;
      this.dealt.add(index);
      return index;
    }
    return undefined;
  }

  /** Takes back a job that comes to nothing where it was given: whoever is free gets it. */
  lost(index: number): void {
    if (!this.jobs.has(index)) this.dealt.delete(index);
  }

  /** Takes what a job gave. */
  done(index: number, job: string): void {
    this.jobs.set(index, job);
  }

  /** Whether every job is done. */
  get isComplete(): boolean {
    return this.size !== undefined && this.jobs.size >= this.size.count;
  }

  /** Share of the jobs that is done, 0 to 1. */
  get share(): number {
    return this.size === undefined ? 0 : this.jobs.size / Math.max(1, this.size.count);
  }

  /** Whether it is time to show what is done so far. */
  isPartDue(): boolean {
    return this.jobs.size > 0 && performance.now() >= this.nextPart;
  }

  /** Begins to make a result; false while one is being made. */
  beginCollecting(): boolean {
    if (this.isCollecting) return false;
    this.isCollecting = true;
    return true;
  }

  /** A result is made. @param took time it took (ms). */
  endCollecting(took: number): void {
    this.isCollecting = false;
    this.nextPart = performance.now() + Math.max(PART_PAUSE, PART_SHARE * took);
  }
}
