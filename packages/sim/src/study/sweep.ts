import { newGraphStore } from '../run/simulate.ts';
import type { Axis } from './axis.ts';
import { findChanges } from './changes.ts';
import type { StopSignal } from './evaluate.ts';
import { jumpKey, probe, type Probe, type ProbeQuestion } from './probe.ts';
import type { Study } from './study.ts';
import type { Subject } from './subject.ts';

/** Intervals of the range that one job covers. */
const JOB_INTERVALS = 4;
/** How closely changes are found (share of their place), and how many are told between two neighbouring points. */
const SEARCH = { precision: 1e-9, most: 32 };

/** One quantity over a range, and what is asked at each point. Plain data. */
export interface SweepPlan extends ProbeQuestion {
  readonly axis: Axis;
}

/** What was found at one value of the quantity. */
export interface SweepPoint extends Probe {
  readonly x: number;
}

/** A place where something jumps: a ratio, the pattern of fates, or whether there is a run. */
export interface SweepMark {
  /** Within 1e-9 of each other; what jumps is as before at `below`, and otherwise at `above`. */
  readonly below: SweepPoint;
  readonly above: SweepPoint;
}

/** What one job gives: its points, the position of the first of them, and the jumps between them. */
export interface SweepJob {
  readonly first: number;
  readonly points: readonly SweepPoint[];
  readonly marks: readonly SweepMark[];
}

/** A sweep as far as it was computed. */
export interface SweepOutcome {
  /** Points computed, ascending. */
  readonly points: readonly SweepPoint[];
  /** Jumps, ascending. One that is undone before the next point goes unnoticed. */
  readonly marks: readonly SweepMark[];
  /** Share of the jobs that was done; 1 for the whole sweep. */
  readonly share: number;
}

/** A sweep as a study: every job covers a few neighbouring points and finds the jumps between them. */
export function sweepStudy(plan: SweepPlan, subject: Subject): Study<SweepJob, SweepOutcome> {
  const { axis, ...asked } = plan;
  const question = { ...asked, graphs: newGraphStore() };
  const jobCount = Math.max(1, Math.ceil((axis.points.length - 1) / JOB_INTERVALS));
  const look = (x: number, signal: StopSignal | undefined): SweepPoint | undefined => {
    const found = probe(subject, new Map([[axis.name, x]]), question, signal);
    return found === undefined ? undefined : { x, ...found };
  };
  return {
    jobCount,
    run(index, signal) {
      const first = index * JOB_INTERVALS;
      const points: SweepPoint[] = [];
      const marks: SweepMark[] = [];
      for (const x of axis.points.slice(first, first + JOB_INTERVALS + 1)) {
        const point = look(x, signal);
        if (point === undefined) return undefined;
        const before = points.at(-1);
        const found = before === undefined ? [] : marksBetween(before, point, (at) => look(at, signal));
        if (found === undefined) return undefined;
        marks.push(...found);
        points.push(point);
      }
      return { first, points, marks };
    },
    collect(jobs) {
      const inOrder = [...jobs].sort(([a], [b]) => a - b).map(([, job]) => job);
      const points = new Map<number, SweepPoint>();
      for (const job of inOrder) {
        for (const [offset, point] of job.points.entries()) points.set(job.first + offset, point);
      }
      return {
        points: [...points.values()],
        marks: inOrder.flatMap(({ marks }) => marks),
        share: jobs.size / jobCount,
      };
    },
  };
}

function marksBetween(
  before: SweepPoint,
  after: SweepPoint,
  look: (x: number) => SweepPoint | undefined,
): SweepMark[] | undefined {
  const [from, to] = [before, after].map((seen) => ({ at: seen.x, seen })) as [At, At];
  const changes = findChanges(from, to, look, jumpKey, SEARCH);
  return changes?.map(({ seenBelow, seenAbove }) => ({ below: seenBelow, above: seenAbove }));
}

interface At {
  readonly at: number;
  readonly seen: SweepPoint;
}
