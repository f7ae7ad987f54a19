import { type ClaimBox, claimBox, isInBox } from './claim-box.ts';
import { claimCourse, type ClaimCourse, type CoursePoint } from './claim-course.ts';
import { claimJudge, type Judge, type Judgement, rememberingJudge } from './claim-judge.ts';
import type { ClaimChoice, ClaimPlan } from './claim-plan.ts';
import { compareTrials, simplestFirst, type Trial } from './claim-simplicity.ts';
import type { ClaimTrials } from './claim-trials.ts';
import type { StopSignal } from './evaluate.ts';
import { jobRandom } from './job-random.ts';
import type { Study } from './study.ts';
import type { Subject } from './subject.ts';

/** Trials that one job draws; it also makes its first failing one simpler. */
const JOB_TRIALS = 20;
/** Reasons why trials decided nothing that are kept. */
const MOST_REASONS = 5;
const WORDS = 2 ** 32;

/** Values with which a claim fails, and what it came to. Plain data. */
export interface Counterexample extends Judgement {
  /** A value for each choice; null where the board's own is no number. */
  readonly values: readonly (number | null)[];
  /** Positions of the choices whose value is not the board's own. */
  readonly off: readonly number[];
}

/** What one job gives. */
export type ClaimJob =
  | {
      readonly kind: 'trials';
      readonly holds: number;
      readonly fails: number;
      readonly open: number;
      /** Why trials decided nothing. */
      readonly reasons: readonly string[];
      /** The first failing trial, made as simple as it can be while it fails. */
      readonly simplest: Trial | null;
      readonly judgement: Judgement | null;
    }
  | { readonly kind: 'course'; readonly choice: number; readonly course: ClaimCourse }
  | { readonly kind: 'box'; readonly box: ClaimBox | null }
  | { readonly kind: 'nominal'; readonly judgement: Judgement };

/** A claim as far as it was tried. */
export interface ClaimOutcome {
  /** `holds` in every trial that decided anything; `fails` in one at least; `open` where nothing was decided. */
  readonly verdict: 'holds' | 'fails' | 'open';
  /** Seeded trials done, and how they came out. */
  readonly trials: number;
  readonly holds: number;
  readonly fails: number;
  readonly open: number;
  readonly reasons: readonly string[];
  /** Null where none is known. */
  readonly counterexample: Counterexample | null;
  /** The claim with the board as it stands; null where that was not tried yet. */
  readonly nominal: Judgement | null;
  /** The claim over each choice alone; null where that was not tried yet. */
  readonly courses: readonly (ClaimCourse | null)[];
  /** Several choices at once between whose ends the claim holds; null where no such box is known. */
  readonly box: ClaimBox | null;
  /** Share of the jobs that was done. */
  readonly share: number;
}

/**
 * A claim as a study. Jobs are the board as it stands, then one for each choice alone (its course, and the range in which
 * the claim holds), then the trials, which vary everything at once, and, with several choices, the box in which it holds,
 * which follows from the courses. The counterexample is the simplest of all that fail:
 * since the courses try every point, none with fewer values off the board's own is missed among those with one.
 */
export function claimStudy(plan: ClaimPlan, subject: Subject, trials: ClaimTrials): Study<ClaimJob, ClaimOutcome> {
  const { choices } = plan;
  const lists = choices.map(simplestFirst);
  const first = 1 + choices.length;
  const boxJob = first + Math.ceil(plan.trials / JOB_TRIALS);
  const jobCount = boxJob + (choices.length > 1 ? 1 : 0);
  const judge = rememberingJudge(claimJudge(plan, subject));
  const valuesOf = (trial: Trial): (number | null)[] =>
    trial.map((position, index) => lists[index]?.[position] ?? null);
  const own = valuesOf(choices.map(() => 0));
  const courses = new Map<number, ClaimCourse>();
  const given = (jobs: ReadonlyMap<number, ClaimJob>): void => {
    for (const job of jobs.values()) if (job.kind === 'course') courses.set(job.choice, job.course);
  };
  return {
    jobCount,
    first,
    following: boxJob,
    given,
    run(index, signal) {
      if (index === 0) {
        const judgement = judge(own, signal);
        return judgement && { kind: 'nominal', judgement };
      }
      // Of the board's own value and the seed alone, so that whoever needs a course again finds the very same.
      const courseOf = (choice: ClaimChoice, place: number): ClaimCourse | undefined => {
        const look = (x: number): Judgement | undefined => judge(own.with(place, x), signal);
        const course = courses.get(place) ?? claimCourse(choice, look, jobRandom(plan.seed, place + 1));
        if (course !== undefined) courses.set(place, course);
        return course;
      };
      const choice = choices[index - 1];
      if (choice !== undefined) {
        const course = courseOf(choice, index - 1);
        return course && { kind: 'course', choice: index - 1, course };
      }
      const random = jobRandom(plan.seed, index);
      if (index === boxJob) {
        const all: ClaimCourse[] = [];
        for (const [place, each] of choices.entries()) {
          const course = courseOf(each, place);
          if (course === undefined) return undefined;
          all.push(course);
        }
        const box = claimBox(choices, all, (values) => judge(values, signal), random);
        return box === undefined ? undefined : { kind: 'box', box };
      }
      const count = Math.min(JOB_TRIALS, plan.trials - (index - first) * JOB_TRIALS);
      const drawn = trials.draw(
        lists.map(({ length }) => length),
        Math.floor(random.next() * WORDS),
        count,
      );
      return triedJob(drawn, trials, (trial) => judge(valuesOf(trial), signal), signal);
    },
    collect: (jobs) => collected(plan, lists, jobs, jobs.size / jobCount),
  };
}

function triedJob(
  drawn: readonly Trial[],
  trials: ClaimTrials,
  judge: (trial: Trial) => ReturnType<Judge>,
  signal: StopSignal | undefined,
): ClaimJob | undefined {
  const counts = { holds: 0, fails: 0, open: 0 };
  const reasons = new Set<string>();
  let failing: Trial | undefined;
  for (const trial of drawn) {
    const found = judge(trial);
    if (found === undefined) return undefined;
    counts[found.verdict]++;
    if (found.verdict === 'open' && found.reason !== undefined) reasons.add(found.reason);
    if (found.verdict === 'fails') failing ??= trial;
  }
  // A trial that the signal stops does not fail, so that shrinking ends there.
  const simplest = failing && trials.simplest(failing, (trial) => judge(trial)?.verdict === 'fails');
  const judgement = simplest && judge(simplest);
  if (signal?.aborted === true) return undefined;
  return {
    kind: 'trials',
    ...counts,
    reasons: [...reasons].slice(0, MOST_REASONS),
    simplest: simplest ?? null,
    judgement: judgement ?? null,
  };
}

function collected(
  { choices }: ClaimPlan,
  lists: readonly (readonly (number | null)[])[],
  jobs: ReadonlyMap<number, ClaimJob>,
  share: number,
): ClaimOutcome {
  const inOrder = [...jobs].sort(([a], [b]) => a - b).map(([, job]) => job);
  const courses: (ClaimCourse | null)[] = choices.map(() => null);
  const failing: { trial: Trial; judgement: Judgement }[] = [];
  const counts = { holds: 0, fails: 0, open: 0 };
  const reasons = new Set<string>();
  const none = choices.map(() => 0);
  let nominal: Judgement | null = null;
  let box: ClaimBox | null = null;
  for (const job of inOrder) {
    if (job.kind === 'nominal') {
      nominal = job.judgement;
      if (nominal.verdict === 'fails') failing.push({ trial: none, judgement: nominal });
    } else if (job.kind === 'box') {
      box = job.box;
    } else if (job.kind === 'course') {
      courses[job.choice] = job.course;
      for (const { x, ...judgement } of job.course.points) {
        if (judgement.verdict !== 'fails') continue;
        failing.push({ trial: none.with(job.choice, lists[job.choice]?.indexOf(x) ?? 0), judgement });
      }
    } else {
      for (const verdict of ['holds', 'fails', 'open'] as const) counts[verdict] += job[verdict];
      for (const reason of job.reasons) reasons.add(reason);
      if (job.simplest !== null && job.judgement !== null) {
        failing.push({ trial: job.simplest, judgement: job.judgement });
      }
    }
  }
  const compare = compareTrials(choices, lists);
  const valuesOf = (trial: Trial): (number | null)[] =>
    trial.map((position, index) => lists[index]?.[position] ?? null);
  const [simplest] = failing.sort((a, b) => compare(a.trial, b.trial));
  const held =
    counts.holds > 0 || nominal?.verdict === 'holds' || courses.some((course) => course?.points.some(didHold));
  return {
    verdict: simplest !== undefined ? 'fails' : held ? 'holds' : 'open',
    trials: counts.holds + counts.fails + counts.open,
    ...counts,
    reasons: [...reasons].slice(0, MOST_REASONS),
    counterexample:
      simplest === undefined
        ? null
        : {
            ...simplest.judgement,
            values: valuesOf(simplest.trial),
            off: simplest.trial.flatMap((position, index) => (position === 0 ? [] : [index])),
          },
    nominal,
    courses,
    // A box with a known case against it is none.
    box: box !== null && failing.some(({ trial }) => isInBox(box, valuesOf(trial), valuesOf(none))) ? null : box,
    share,
  };
}

function didHold({ verdict }: CoursePoint): boolean {
  return verdict === 'holds';
}
