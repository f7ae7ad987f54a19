import type { StopSignal } from './evaluate.ts';
import type { Study } from './study.ts';

/** A study that begins with a survey: what its later jobs are follows from what the first ones gave. */
export interface Surveyed<First, Job, Outcome, Result> {
  /** Jobs of the survey. */
  readonly firstCount: number;
  runFirst(index: number, signal: StopSignal | undefined): First | undefined;
  /** Later jobs there are at most, whatever the survey gives. */
  readonly laterCount: number;
  /** The study of the later jobs, by everything the survey gave, in its order; undefined when stopped. */
  later(found: readonly First[], signal: StopSignal | undefined): Study<Job, Outcome> | undefined;
  /** @param later the study and its outcome; undefined while the survey is not complete. */
  collect(later: Outcome | undefined, share: number): Result;
}

/**
 * The jobs of a survey, then those that follow from it, as one study. Jobs of the survey that it is not given it runs
 * itself, once, when a later job first needs them, so that any job may be run anywhere.
 */
export function surveyedStudy<First, Job, Outcome, Result>(
  parts: Surveyed<First, Job, Outcome, Result>,
): Study<First | Job, Result> {
  const { firstCount, laterCount } = parts;
  const jobCount = firstCount + laterCount;
  const known = new Map<number, First>();
  let later: Study<Job, Outcome> | undefined;
  const run = (index: number, signal: StopSignal | undefined): First | undefined => {
    const found = known.get(index) ?? parts.runFirst(index, signal);
    if (found !== undefined) known.set(index, found);
    return found;
  };
  const given = (jobs: ReadonlyMap<number, First | Job>): void => {
    for (const [index, job] of jobs) if (index < firstCount) known.set(index, job as First);
  };
  const laterStudy = (signal?: StopSignal): Study<Job, Outcome> | undefined => {
    if (known.size < firstCount) return undefined;
    later ??= parts.later(
      Array.from({ length: firstCount }, (_, index) => known.get(index)!),
      signal,
    );
    return later;
  };
  return {
    jobCount,
    first: firstCount,
    given,
    run(index, signal) {
      if (index < firstCount) return run(index, signal);
      for (let each = 0; each < firstCount; each++) if (run(each, signal) === undefined) return undefined;
      return laterStudy(signal)?.run(index - firstCount, signal);
    },
    collect(jobs) {
      given(jobs);
      const own = [...jobs].flatMap(([index, job]) =>
        index < firstCount ? [] : [[index - firstCount, job as Job] as const],
      );
      return parts.collect(laterStudy()?.collect(new Map(own)), jobs.size / jobCount);
    },
  };
}
