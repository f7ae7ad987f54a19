import { faultObserver } from '../measure/faults.ts';
import type { Unit } from '../quantity/index.ts';
import { type ChosenSet, type RankedSet, rankedSets, type Wish } from './choose-rank.ts';
import { type Evaluation, evaluate, type Question, type StopSignal } from './evaluate.ts';
import { harmsOf } from './harm.ts';
import type { Study } from './study.ts';
import type { NamedValues, Subject } from './subject.ts';

/** Sets of values that one job covers. */
const JOB_SETS = 10;

/** Sets of values of which the best are wanted. Plain data. */
export interface ChoosePlan extends Question {
  /** The values that are chosen, as the subject knows them. */
  readonly names: readonly string[];
  /** All sets that are tried, each with one value (SI) for each name. */
  readonly sets: readonly (readonly number[])[];
  /** What each reading should be. */
  readonly wishes: readonly Wish[];
  /**
   * Values that are put in beside those of a set which grants all wishes, to see what the largest leakages and input
   * currents would do to it; empty where there are none.
   */
  readonly strain: Readonly<Record<string, number>>;
  /** Which sets to compare as one group, such as those of one series: positions in `sets`. */
  readonly groups: readonly { readonly name: string; readonly sets: readonly number[] }[];
  /** Only parts whose names begin with this are told of, without it. */
  readonly prefix: string;
}

/** What one job gives: its sets, and the position of the first of them. */
export interface ChooseJob {
  readonly first: number;
  readonly sets: readonly ChosenSet[];
  readonly units: readonly (Unit | null)[];
}

/** A choice as far as it was computed. */
export interface ChooseOutcome {
  /** Sets in which every reading has a value and nothing is beyond its limits, the nearest to the wishes first. */
  readonly ranked: readonly RankedSet[];
  /** Sets that would harm a part or go beyond a rating; never ranked, however near. */
  readonly harmful: readonly { readonly set: number; readonly why: string }[];
  /** Sets in which a reading has no value. */
  readonly without: readonly { readonly set: number; readonly why: string }[];
  /** The best set of each group, in their order; null where none can be ranked or none is run yet. */
  readonly best: readonly (RankedSet | null)[];
  readonly units: readonly (Unit | null)[];
  /** Share of the jobs that was done; 1 for the whole choice. */
  readonly share: number;
}

/** How many jobs so many sets make. */
export function chooseJobCount(sets: number): number {
  return Math.max(1, Math.ceil(sets / JOB_SETS));
}

/** A choice as a study: every job judges and runs a few sets. */
export function chooseStudy(plan: ChoosePlan, subject: Subject): Study<ChooseJob, ChooseOutcome> {
  const { sets, wishes, groups } = plan;
  const jobCount = chooseJobCount(sets.length);
  return {
    jobCount,
    run(index, signal) {
      const first = index * JOB_SETS;
      const chosen: ChosenSet[] = [];
      let units: readonly (Unit | null)[] = [];
      for (const values of sets.slice(first, first + JOB_SETS)) {
        const found = tried(plan, subject, values, signal);
        if (found === undefined) return undefined;
        chosen.push(found.chosen);
        if (found.units.some((unit) => unit !== null)) units = found.units;
      }
      return { first, sets: chosen, units };
    },
    collect(jobs) {
      const inOrder = [...jobs].sort(([a], [b]) => a - b).map(([, job]) => job);
      const all = inOrder.flatMap((job) => job.sets.map((chosen, offset) => ({ set: job.first + offset, chosen })));
      const ranked = rankedSets(all, wishes);
      const places = new Map(ranked.map((each, place) => [each.set, place]));
      const reasonOf = (chosen: ChosenSet): string =>
        chosen.reasons?.find((each) => each !== null) ?? chosen.strainedReason ?? 'a reading has no value';
      return {
        ranked,
        harmful: all.flatMap(({ set, chosen }) => (chosen.harm === undefined ? [] : [{ set, why: chosen.harm }])),
        without: all.flatMap(({ set, chosen }) =>
          chosen.harm === undefined && !places.has(set) ? [{ set, why: reasonOf(chosen) }] : [],
        ),
        best: groups.map((group) => {
          const own = group.sets.flatMap((set) => places.get(set) ?? []);
          return own.length === 0 ? null : (ranked[Math.min(...own)] ?? null);
        }),
        units: wishes.map(
          (_, index) =>
            inOrder.map(({ units }) => units[index]).find((unit) => unit !== null && unit !== undefined) ?? null,
        ),
        share: jobs.size / jobCount,
      };
    },
  };
}

/** Judges one set as it stands, and runs it only if nothing would be harmed. @returns undefined when stopped. */
function tried(
  plan: ChoosePlan,
  subject: Subject,
  set: readonly number[],
  signal: StopSignal | undefined,
): { readonly chosen: ChosenSet; readonly units: readonly (Unit | null)[] } | undefined {
  const values = new Map(plan.names.map((name, index) => [name, set[index] ?? NaN]));
  const built = subject(values);
  const none = { values: plan.wishes.map(() => null) };
  if (!built.ok) return { chosen: { ...none, reasons: plan.wishes.map(() => built.reason) }, units: [] };
  const [harm] = harmsOf(built.context.circuit);
  if (harm !== undefined) return { chosen: { ...none, harm }, units: [] };
  const run = watched(plan, subject, values, signal);
  if (run === undefined) return undefined;
  const { evaluation, beyond } = run;
  const chosen = chosenOf(evaluation);
  const { units } = evaluation;
  if (beyond !== undefined) return { chosen: { ...chosen, harm: beyond }, units };
  const strain = Object.entries(plan.strain);
  if (strain.length === 0 || rankedSets([{ set: 0, chosen }], plan.wishes)[0]?.granted !== true) {
    return { chosen, units };
  }
  const strained = evaluate(subject, new Map([...values, ...strain]), plan, signal);
  if (strained === undefined) return undefined;
  const { values: under, reasons } = chosenOf(strained);
  const reason = reasons?.find((each) => each !== null) ?? null;
  return { chosen: { ...chosen, strained: under, ...(reason === null ? {} : { strainedReason: reason }) }, units };
}

/** Runs a set and watches what goes beyond its limits on the way. */
function watched(
  plan: ChoosePlan,
  subject: Subject,
  values: NamedValues,
  signal: StopSignal | undefined,
): { readonly evaluation: Evaluation; readonly beyond: string | undefined } | undefined {
  let beyond = (): string | undefined => undefined;
  const { readings, window, maxEvents, graphs } = plan;
  const question = { readings, window, maxEvents, graphs, faults: true };
  const evaluation = evaluate(subject, values, question, signal, ({ circuit }) => {
    const faults = faultObserver(circuit, { from: 0, until: window.until }, plan.prefix);
    beyond = () => faults.result()[0]?.sentence;
    return [faults];
  });
  return evaluation === undefined ? undefined : { evaluation, beyond: beyond() };
}

function chosenOf({ measured }: Evaluation): ChosenSet {
  const values = measured.map(({ value }) => value);
  if (values.every((value) => value !== null)) return { values };
  return { values, reasons: measured.map(({ reason }) => reason ?? null) };
}
