import type { Circuit } from '../circuit/description.ts';
import { isOnlyLow } from '../circuit/timer-supply-dangers.ts';
import { evaluate, type Question, type StopSignal } from './evaluate.ts';
import { faultObserver } from '../measure/faults.ts';
import type { MeasureContext, Window } from '../measure/context.ts';
import type { Unit } from '../quantity/index.ts';
import { newGraphStoreForSamples } from '../run/simulate.ts';
import type { Observer } from '../trace/observer.ts';
import { firstAlike } from './alike.ts';
import { harmsOf, type Remedy, remedyOf } from './harm.ts';
import { isHarm, isInside, type Remark } from './remark.ts';
import { seenAndHeard } from './seen-heard.ts';
import type { Study } from './study.ts';
import type { Subject } from './subject.ts';
import { timerCourse } from './timer-course.ts';

/** Combinations that one job computes. */
const TOGETHER = 40;
/** Judgements of parts as joined that a study keeps. */
const MOST_KEPT = 10_000;

/** A place of a kit where one of several parts can be plugged in. Plain data. */
export interface SwapPlace {
  /** As in the document: `R1`, `U1.family`. */
  readonly name: string;
  /** What can be plugged in, as people read it: `47 kΩ`, `cmos`, `none`. The subject knows each by its position. */
  readonly choices: readonly string[];
  /** Whether what is plugged in says nothing about harm to a circuit as joined: the capacitance of a capacitor. */
  readonly harmless: boolean;
}

/** Every combination of what a kit lets people plug in. Plain data. */
export interface SwapsPlan extends Question {
  readonly places: readonly SwapPlace[];
  /** Readings this close are told apart by nobody (share of the larger). */
  readonly alike: number;
  /** Only parts whose names begin with it are watched, and they are named without it. */
  readonly prefix: string;
}

/** One combination as it was computed. */
export interface SwapRow {
  /** One for each reading; null where there is none, and for a combination that is not run. */
  readonly values: readonly (number | null)[];
  /** Why a value is null, by its position; empty where none is. */
  readonly reasons: Readonly<Record<number, string>>;
  readonly units: readonly (Unit | null)[];
  readonly remarks: readonly Remark[];
  /** What would keep it from harm as joined, in a sentence; null where nothing is wrong or no single part would. */
  readonly remedy: string | null;
  /** Why there was no run, or none to its end; null where there was. */
  readonly failed: string | null;
}

/** A combination with what only the others tell. */
export interface SwapFinding extends SwapRow {
  /** Its position among all combinations: the last place counts fastest. */
  readonly index: number;
  /** Positions of what is plugged in, one for each place. */
  readonly choices: readonly number[];
  /** Position of the first combination that its readings do not tell it from; null where there is none before it. */
  readonly sameAs: number | null;
}

/** All combinations computed, ascending. */
export interface SwapsOutcome {
  readonly findings: readonly SwapFinding[];
  /** Combinations in all. */
  readonly count: number;
  /** Share of the jobs that was done; 1 for all. */
  readonly share: number;
}

/** How many combinations there are; beyond 2^53 not exact. */
export function combinationCount(places: readonly { readonly choices: readonly unknown[] }[]): number {
  return places.reduce((product, { choices }) => product * choices.length, 1);
}

/**
 * All combinations as a study: every job computes a few neighbouring ones. The subject is given, for each place, the
 * position of what is plugged in. A combination that would do harm as joined is not run: what it would read, nobody will.
 * Nor is one that gives a timer less supply than it needs: what it would do, no data sheet says.
 */
export function swapsStudy(plan: SwapsPlan, subject: Subject): Study<readonly SwapRow[], SwapsOutcome> {
  const { places } = plan;
  const count = combinationCount(places);
  const jobCount = Math.ceil(count / TOGETHER);
  const judge = judgeOf(plan, subject);
  const watched = { ...plan, faults: true, graphs: newGraphStoreForSamples() };
  return {
    jobCount,
    run(index, signal) {
      const rows: SwapRow[] = [];
      for (let each = index * TOGETHER; each < Math.min(count, (index + 1) * TOGETHER); each++) {
        const row = rowOf(watched, subject, choicesOf(places, each), judge, signal);
        if (row === undefined) return undefined;
        rows.push(row);
      }
      return rows;
    },
    collect(jobs) {
      const found = [...jobs].sort(([a], [b]) => a - b);
      const rows = found.flatMap(([job, all]) => all.map((row, offset) => ({ index: job * TOGETHER + offset, row })));
      const comparable = rows.filter(({ row }) => row.values.some((value) => value !== null) && isInside(row.remarks));
      const firsts = firstAlike(
        comparable.map(({ row }) => row.values),
        plan.alike,
      );
      const same = new Map<number, number>();
      for (const [position, first] of firsts.entries()) {
        if (first !== position) same.set(comparable[position]!.index, comparable[first]!.index);
      }
      return {
        findings: rows.map(({ index, row }) => ({
          ...row,
          index,
          choices: choicesOf(places, index),
          sameAs: same.get(index) ?? null,
        })),
        count,
        share: jobs.size / jobCount,
      };
    },
  };
}

/** Judges a circuit as joined; what it says when it was stopped does not count. */
type Judge = (choices: readonly number[], circuit: Circuit, signal: StopSignal | undefined) => Judgement;

/** What is known of a circuit as joined. */
interface Judgement {
  readonly harms: readonly string[];
  readonly remedy: string | null;
}

/**
 * Judges circuits as joined. Looking for a remedy takes dozens of times as long as finding the harm, and most places have
 * nothing to do with it: it is looked for where every place has its first part, as far as that does the very same harm, and
 * then tried in the circuit itself. So it follows from the combination alone, whatever was judged before.
 */
function judgeOf({ places, prefix }: SwapsPlan, subject: Subject): Judge {
  const harms = new Map<string, readonly string[]>();
  const remedies = new Map<string, Remedy | undefined>();
  const keyOf = (choices: readonly number[]): string =>
    choices.filter((_, place) => places[place]?.harmless !== true).join();
  const circuitOf = (choices: readonly number[]): Circuit | undefined => {
    const built = subject(new Map(places.map(({ name }, place) => [name, choices[place] ?? 0])));
    return built.ok ? built.context.circuit : undefined;
  };
  const harmsAt = (choices: readonly number[], circuit: Circuit | undefined): readonly string[] | undefined => {
    const known = harms.get(keyOf(choices));
    if (known !== undefined || circuit === undefined) return known;
    if (harms.size >= MOST_KEPT) harms.clear();
    const found = harmsOf(circuit);
    harms.set(keyOf(choices), found);
    return found;
  };
  const simplest = (choices: readonly number[], harm: string): readonly number[] => {
    let simple = choices;
    for (const [place, choice] of choices.entries()) {
      if (choice === 0) continue;
      const tried = simple.with(place, 0);
      if (harmsAt(tried, circuitOf(tried))?.join('\n') === harm) simple = tried;
    }
    return simple;
  };
  const remedyAt = (choices: readonly number[], signal: StopSignal | undefined): Remedy | undefined => {
    const key = keyOf(choices);
    if (remedies.has(key)) return remedies.get(key);
    const circuit = circuitOf(choices);
    const found = circuit === undefined ? undefined : remedyOf(circuit, prefix, signal);
    if (signal?.aborted === true) return undefined;
    if (remedies.size >= MOST_KEPT) remedies.clear();
    remedies.set(key, found);
    return found;
  };
  return (choices, circuit, signal) => {
    const found = harmsAt(choices, circuit) ?? [];
    if (found.length === 0) return { harms: found, remedy: null };
    const common = remedyAt(simplest(choices, found.join('\n')), signal);
    const remedy = common?.helps(circuit) === true ? common : remedyAt(choices, signal);
    return { harms: found, remedy: remedy?.sentence ?? null };
  };
}

/** What is plugged in where in the combination of this number. */
function choicesOf(places: readonly SwapPlace[], index: number): number[] {
  let rest = index;
  return places
    .toReversed()
    .map(({ choices }) => {
      const choice = rest % choices.length;
      rest = Math.floor(rest / choices.length);
      return choice;
    })
    .reverse();
}

function rowOf(
  plan: SwapsPlan,
  subject: Subject,
  choices: readonly number[],
  judge: Judge,
  signal: StopSignal | undefined,
): SwapRow | undefined {
  const { places, prefix, readings, window } = plan;
  const built = subject(new Map(places.map(({ name }, place) => [name, choices[place] ?? 0])));
  if (!built.ok) return without(readings.length, built.reason, built.reason);
  const { harms, remedy } = judge(choices, built.context.circuit, signal);
  if (signal?.aborted === true) return undefined;
  if (harms.length > 0) {
    const remarks = harms.map(
      (sentence): Remark => ({ what: isOnlyLow(sentence) ? 'supply-low' : 'unsafe', part: '', sentence }),
    );
    const reason = remarks.some(isHarm) ? 'it would do harm' : 'a timer has less supply than it needs';
    return { ...without(readings.length, `${reason}, so it is not run`, null), remarks, remedy };
  }
  const watch = watchOf(built.context, window, prefix);
  const found = evaluate(
    () => built,
    new Map(),
    plan,
    signal,
    () => watch.observers,
  );
  if (found === undefined) return undefined;
  const { measured, units, failed } = found;
  const reasons: Record<number, string> = {};
  for (const [index, { reason }] of measured.entries()) if (reason !== undefined) reasons[index] = reason;
  const remarks = failed === null ? watch.remarks() : [];
  return { values: measured.map(({ value }) => value), reasons, units, remarks, remedy: null, failed };
}

function without(count: number, reason: string, failed: string | null): SwapRow {
  const none = Array.from({ length: count }, () => null);
  const reasons = Object.fromEntries(none.map((_, index) => [index, reason]));
  return { values: none, reasons, units: none, remarks: [], remedy: null, failed };
}

/** Everything that is watched for remarks. */
function watchOf(
  { circuit, timers }: MeasureContext,
  window: Window,
  prefix: string,
): { readonly observers: readonly Observer[]; remarks(): Remark[] } {
  const faults = faultObserver(circuit, window, prefix);
  const courses = timers
    .filter(({ name }) => name.startsWith(prefix))
    .map((timer) => timerCourse(timer, window, timer.name.slice(prefix.length)));
  const senses = seenAndHeard(circuit, window, prefix);
  return {
    observers: [faults, ...courses, ...senses.observers],
    remarks: () => [
      ...faults
        .result()
        .map(
          ({ what, part, sentence }): Remark => ({ what: what === 'supply-low' ? what : 'over-limit', part, sentence }),
        ),
      ...courses.flatMap((course) => course.result()),
      ...senses.result(),
    ],
  };
}
