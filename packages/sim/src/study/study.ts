import type { StopSignal } from './evaluate.ts';

/**
 * Work cut into jobs that know nothing of each other. A contract of five points.
 *
 * 1. Jobs are numbered from 0 to `jobCount - 1`. What a job gives follows from the study and its number alone, never from
 *    which jobs ran before, where, or how many at once; random numbers of job k come from the seed and k (`jobRandom`).
 * 2. A job takes well under a second as a rule, and gives plain data that survives JSON: it may come from another thread
 *    or a file.
 * 3. A job that the signal stops gives `undefined` and counts as not done.
 * 4. `collect` makes the result of whatever jobs are there, none included, and says in it what is missing. The same jobs
 *    give the same result, to the last bit, in whatever order they were done.
 * 5. Jobs from `following` on may follow from what the `first` ones give. Whoever runs jobs in several places does those
 *    before these and hands on with `given` what they gave; what a place is not given it computes anew, at the same result.
 */
export interface Study<Job, Result> {
  readonly jobCount: number;
  run(index: number, signal?: StopSignal): Job | undefined;
  collect(jobs: ReadonlyMap<number, Job>): Result;
  /** How many jobs, from 0 on, others follow from; none if left out. */
  readonly first?: number;
  /** Number of the first job that follows from them; all after them do, if left out. */
  readonly following?: number;
  /** Takes what jobs gave elsewhere; only the first ones matter. */
  given?(jobs: ReadonlyMap<number, Job>): void;
}

/** How the jobs of a study are run. */
export interface StudyControl {
  /** Ends the work; what is done by then is kept. */
  readonly signal?: StopSignal | undefined;
  /** Told the share of the jobs that is done, 0 to 1, after each. */
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** Runs all jobs of a study, one after the other, in this thread, and gives its result: a partial one when stopped. */
export function runStudy<Job, Result>(study: Study<Job, Result>, control: StudyControl = {}): Result {
  return study.collect(runJobs(study, control));
}

/** Runs all jobs of a study, one after the other, in this thread, and gives what they gave: fewer when stopped. */
export function runJobs<Job>(study: Study<Job, unknown>, control: StudyControl = {}): Map<number, Job> {
  return new Map(doneJobs(study, control));
}

/**
 * The same, but lets its caller breathe: after every job it waits for `pause`, in which messages can arrive and an
 * `AbortSignal` can be set off.
 */
export async function runStudyInSteps<Job, Result>(
  study: Study<Job, Result>,
  pause: () => Promise<void>,
  control: StudyControl = {},
): Promise<Result> {
  const jobs = new Map<number, Job>();
  for (const [index, job] of doneJobs(study, control)) {
    jobs.set(index, job);
    await pause();
  }
  return study.collect(jobs);
}

function* doneJobs<Job>(study: Study<Job, unknown>, { signal, onProgress }: StudyControl): Generator<[number, Job]> {
  for (let index = 0; index < study.jobCount; index++) {
    if (signal?.aborted === true) return;
    const job = study.run(index, signal);
    if (job === undefined) return;
    onProgress?.((index + 1) / study.jobCount);
    yield [index, job];
  }
}
