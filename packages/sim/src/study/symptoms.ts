import { faultObserver } from '../measure/faults.ts';
import type { Unit } from '../quantity/index.ts';
import type { FaultCode } from '../trace/event.ts';
import { evaluate, type Question } from './evaluate.ts';
import { harmsOf } from './harm.ts';
import type { Study } from './study.ts';
import type { Subject } from './subject.ts';

/** Circuits that one job computes. */
const TOGETHER = 8;

/** What is wrong with a part. */
export type FaultKind =
  | 'open'
  | 'short'
  | 'ten-times'
  | 'a-tenth'
  | 'next-above'
  | 'next-below'
  | 'reversed'
  | 'missing-link'
  | 'dry-joint'
  | 'other-family'
  | 'leaky'
  | 'tired'
  | 'exchanged'
  | 'stuck'
  | 'dead-pin'
  | 'wrong-polarity'
  | 'flat'
  | 'wrong-voltage'
  | 'no-signal';

/** One fault of one part. Plain data. */
export interface SymptomFault {
  readonly part: string;
  readonly what: FaultKind;
  /** In a few words: `R1 open or missing`. */
  readonly title: string;
  /** Why it must never be built, whatever a run says, in a sentence; null where the run decides. */
  readonly never: string | null;
}

/** All single faults of a board. Plain data. */
export interface SymptomsPlan extends Question {
  /** The readings that are asked for come first; those behind them may tell apart what looks alike. */
  readonly asked: number;
  readonly single: readonly SymptomFault[];
  /** Only parts whose names begin with it are watched, and they are named without it. */
  readonly prefix: string;
}

/** What a circuit with one fault, or with none, gives. */
export interface SymptomRow {
  /** One for each reading, SI units; null where there is none. */
  readonly values: readonly (number | null)[];
  /** Why a value is null, by its position. */
  readonly reasons: Readonly<Record<number, string>>;
  readonly units: readonly (Unit | null)[];
  /** Why it must not be built, in sentences; empty where every part stays inside its ratings. */
  readonly harms: readonly string[];
  /** Why there was no run, or none to its end; null where there was. */
  readonly failed: string | null;
}

/** All circuits computed. */
export interface SymptomsOutcome {
  /** By position: 0 the board as built, then one for each fault; those not computed are left out. */
  readonly rows: ReadonlyMap<number, SymptomRow>;
  /** Share of the jobs that was done; 1 for all. */
  readonly share: number;
}

/** The name under which the subject of this study is given the position of a circuit: 0 as built, k the k-th fault. */
export const FAULT = 'fault';

/** All single faults as a study: every job computes a few circuits, the first of all the board as built. */
export function symptomsStudy(plan: SymptomsPlan, subject: Subject): Study<readonly SymptomRow[], SymptomsOutcome> {
  const { single, window, prefix } = plan;
  const count = single.length + 1;
  const jobCount = Math.ceil(count / TOGETHER);
  return {
    jobCount,
    run(index, signal) {
      const rows: SymptomRow[] = [];
      for (let position = index * TOGETHER; position < Math.min(count, (index + 1) * TOGETHER); position++) {
        const built = subject(new Map([[FAULT, position]]));
        const described = single[position - 1];
        let beyond = (): string[] => [];
        let harms: string[] = [];
        const found = evaluate(
          () => built,
          new Map(),
          { ...plan, faults: true },
          signal,
          ({ circuit }) => {
            const observer = faultObserver(circuit, window, prefix);
            // A timer that something open leaves without its supply is not harmed by that.
            const isHarm = (what: FaultCode): boolean => described?.what !== 'open' || what !== 'supply-low';
            beyond = () => observer.result().flatMap(({ what, sentence }) => (isHarm(what) ? [sentence] : []));
            harms = harmsOf(circuit);
            return [observer];
          },
        );
        if (found === undefined) return undefined;
        const { measured, units, failed } = found;
        const reasons: Record<number, string> = {};
        for (const [reading, { reason }] of measured.entries()) if (reason !== undefined) reasons[reading] = reason;
        const never = described?.never ?? null;
        rows.push({
          values: measured.map(({ value }) => value),
          reasons,
          units,
          harms: [...(never === null ? [] : [never]), ...harms, ...beyond()],
          failed,
        });
      }
      return rows;
    },
    collect(jobs) {
      const rows = new Map<number, SymptomRow>();
      for (const [job, all] of [...jobs].sort(([a], [b]) => a - b)) {
        for (const [offset, row] of all.entries()) rows.set(job * TOGETHER + offset, row);
      }
      return { rows, share: jobs.size / jobCount };
    },
  };
}
