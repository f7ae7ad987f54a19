import { type Evaluation, evaluate, type Question, type StopSignal } from './evaluate.ts';
import { newGraphStoreForSamples } from '../run/simulate.ts';
import { jobRandom } from './job-random.ts';
import { drawnPlaces, type SpreadLaw, type SpreadQuantity, valuesAt } from './spread-quantity.ts';
import { cornerCount, cornerPlaces, crossPlaces, type PlacedRun, searchWorst } from './spread-worst.ts';
import type { Study } from './study.ts';
import type { Subject } from './subject.ts';
import type { Unit } from '../quantity/index.ts';

/** Corners and samples that one job covers. */
const JOB_RUNS = 25;

/** Values that are not known exactly, and what is asked of each circuit they may make. Plain data. */
export interface SpreadPlan extends Question {
  readonly quantities: readonly SpreadQuantity[];
  readonly law: SpreadLaw;
  readonly samples: number;
  /** A whole number from 0 to 4294967295. */
  readonly seed: number;
}

/** Readings of one run, without what is the same for all runs. */
export interface SpreadRun {
  /** A place in each range: -1 and 1 are its ends, 0 its middle. */
  readonly places: readonly number[];
  /** One for each reading (SI). */
  readonly values: readonly (number | null)[];
  /** Why values are missing, one for each reading; only where one is. */
  readonly reasons?: readonly (string | null)[];
}

/** What one job gives. */
export interface SpreadJob {
  /**
   * `middle`: the circuit as it stands (places: none), then the middle of all ranges and the ends of each range alone;
   * `corners`: some corners; `worst`: the furthest run found for one reading in one direction; `samples`: random ones.
   */
  readonly what: 'middle' | 'corners' | 'worst' | 'samples';
  readonly runs: readonly SpreadRun[];
  readonly units: readonly (Unit | null)[];
}

/** All runs of a spread as far as they were done, in the order of their numbers. */
export interface SpreadOutcome {
  /** The circuit as it stands; null where it is not run yet. */
  readonly nominal: SpreadRun | null;
  /** The middle of all ranges, then the two ends of each alone. */
  readonly cross: readonly SpreadRun[];
  readonly corners: readonly SpreadRun[];
  /** Whether all corners are among these in a whole result: there are too many of more than eight ranges. */
  readonly allCorners: boolean;
  /** The furthest runs that searches found. */
  readonly searched: readonly SpreadRun[];
  readonly samples: readonly SpreadRun[];
  readonly units: readonly (Unit | null)[];
  /** Share of the jobs that was done; 1 for the whole spread. */
  readonly share: number;
}

/**
 * A spread as a study: one job runs the circuit as it stands and each range alone, some the corners of all ranges, one for
 * each reading and direction searches for its extreme, and the rest draw samples, each job from a stream of its own. What
 * sample k is follows from the seed and k alone: job j draws samples 25 j to 25 j + 24, in this order, however many there
 * are in all and whoever runs the others.
 */
export function spreadStudy(plan: SpreadPlan, subject: Subject): Study<SpreadJob, SpreadOutcome> {
  const { quantities, law, samples, seed, ...asked } = plan;
  const question = { ...asked, graphs: newGraphStoreForSamples() };
  const corners = cornerCount(quantities.length);
  const cornerJobs = Math.ceil(corners / JOB_RUNS);
  const searches = 2 * question.readings.length;
  const sampleJobs = Math.ceil(samples / JOB_RUNS);
  const firstSearch = 1 + cornerJobs;
  const firstSample = firstSearch + searches;
  const jobCount = firstSample + sampleJobs;

  const look = (places: readonly number[], signal: StopSignal | undefined): Evaluation | undefined =>
    evaluate(subject, valuesAt(quantities, places), question, signal);
  const runAll = (
    what: SpreadJob['what'],
    all: readonly (readonly number[])[],
    signal: StopSignal | undefined,
    before: readonly Placed[] = [],
  ): SpreadJob | undefined => {
    const runs: Placed[] = [...before];
    for (const places of all) {
      const evaluation = look(places, signal);
      if (evaluation === undefined) return undefined;
      runs.push({ places, evaluation });
    }
    return jobOf(what, runs);
  };
  const numbered = (job: number, count: number): number[] => {
    const start = job * JOB_RUNS;
    return Array.from({ length: Math.max(0, Math.min(JOB_RUNS, count - start)) }, (_, offset) => start + offset);
  };

  return {
    jobCount,
    run(index, signal) {
      if (index === 0) {
        const evaluation = evaluate(subject, new Map(), question, signal);
        if (evaluation === undefined) return undefined;
        return runAll('middle', crossPlaces(quantities.length), signal, [{ places: [], evaluation }]);
      }
      if (index < firstSearch) {
        const places = numbered(index - 1, corners).map((corner) => cornerPlaces(quantities.length, corner));
        return runAll('corners', places, signal);
      }
      if (index < firstSample) {
        const search = index - firstSearch;
        const direction = search % 2 === 0 ? -1 : 1;
        const found = searchWorst(quantities.length, Math.floor(search / 2), direction, (places) =>
          look(places, signal),
        );
        return found === undefined ? undefined : jobOf('worst', found === null ? [] : [found]);
      }
      // One stream for a whole job: to begin a stream takes a twelfth of what a sample takes.
      const random = jobRandom(seed, index - firstSample);
      const places = numbered(index - firstSample, samples).map(() => drawnPlaces(law, quantities.length, random));
      return runAll('samples', places, signal);
    },
    collect(jobs) {
      const inOrder = [...jobs].sort(([a], [b]) => a - b).map(([, job]) => job);
      const of = (what: SpreadJob['what']): SpreadRun[] =>
        inOrder.filter((job) => job.what === what).flatMap(({ runs }) => runs);
      const [nominal = null, ...cross] = of('middle');
      return {
        nominal,
        cross,
        corners: of('corners'),
        allCorners: corners > 0,
        searched: of('worst'),
        samples: of('samples'),
        units: question.readings.map(
          (_, index) =>
            inOrder.map(({ units }) => units[index]).find((unit) => unit !== null && unit !== undefined) ?? null,
        ),
        share: jobs.size / jobCount,
      };
    },
  };
}

type Placed = PlacedRun;

function jobOf(what: SpreadJob['what'], runs: readonly Placed[]): SpreadJob {
  const first = runs.find(({ evaluation }) => evaluation.failed === null) ?? runs[0];
  return { what, runs: runs.map(runOf), units: first?.evaluation.units ?? [] };
}

function runOf({ places, evaluation }: Placed): SpreadRun {
  const values = evaluation.measured.map(({ value }) => value);
  if (values.every((value) => value !== null)) return { places, values };
  return { places, values, reasons: evaluation.measured.map(({ reason }) => reason ?? null) };
}
