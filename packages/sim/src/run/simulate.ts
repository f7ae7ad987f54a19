import type { Circuit } from '../circuit/description.ts';
import { standardDevices } from '../device/standard-devices.ts';
import { GraphStore, type Prepared } from '../engine/graph-store.ts';
import type { Outcome } from '../engine/outcome.ts';
import { buildProgram } from '../engine/program.ts';
import { Driver } from '../engine/driver.ts';
import { SituationGraph } from '../engine/situation-graph.ts';
import { voltScale } from '../engine/volt-scale.ts';
import { wiredAlike } from '../engine/wired-alike.ts';
import type { Observer } from '../trace/observer.ts';

export { highLevel, timersOf } from './timer-facts.ts';

/** Events a run may handle unless told otherwise: some minutes of computing. */
export const DEFAULT_MAX_EVENTS = 500_000_000;

/** What to run and who watches. */
export interface SimulateOptions {
  /** End of the run (s), finite and not negative. */
  readonly until: number;
  readonly observers: readonly Observer[];
  /** Events the run may handle; default `DEFAULT_MAX_EVENTS`. */
  readonly maxEvents?: number | undefined;
  /** Looked at every few thousand events. */
  readonly signal?: { readonly aborted: boolean } | undefined;
  /** Whether parts beyond their limits make `fault` events; default false. */
  readonly faults?: boolean | undefined;
  /**
   * Whether periods of a run that repeats itself, bit for bit, may be counted instead of being gone through, where every
   * observer can be told of them; default true.
   */
  readonly countPeriods?: boolean | undefined;
  /** Graphs kept from runs of circuits that behave alike; each run makes its own, if not given. */
  readonly graphs?: GraphStore | undefined;
  /** Called now and then with the share of the time done, 0 to 1. */
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** An empty store of graphs, for runs that follow each other. */
export function newGraphStore(): GraphStore {
  return new GraphStore(standardDevices);
}

/** The same for runs of circuits of which hardly any comes again, such as samples: they all use the same memory. */
export function newGraphStoreForSamples(): GraphStore {
  return new GraphStore(standardDevices, 1);
}

/**
 * The program of a circuit, and a graph in which to run it.
 *
 * @param spare a graph that nobody uses any more: it takes up the program, if it is wired alike.
 */
export function prepareRun(circuit: Circuit, spare?: SituationGraph): Prepared {
  const program = buildProgram(circuit, standardDevices);
  const scale = voltScale(program);
  const fits = spare !== undefined && wiredAlike(spare.program, program) && spare.renew(program, scale);
  return { program, graph: fits ? spare : new SituationGraph(program, scale) };
}

/**
 * Runs a checked circuit from 0 to `until` and shows everything to the observers. How the run ended is the answer; it is
 * never thrown. Throws a RangeError when `until` is not a finite time.
 */
export function runCircuit(circuit: Circuit, options: SimulateOptions): Outcome {
  const { until, observers, signal, onProgress, countPeriods = true } = options;
  if (!(until >= 0 && Number.isFinite(until))) {
    throw new RangeError(`run: until must be a finite time of 0 s or more; got ${until}.`);
  }
  const { program, graph } = options.graphs?.prepare(circuit, options.faults) ?? {
    program: buildProgram(circuit, standardDevices, options.faults),
  };
  const driver = new Driver(program, observers, undefined, graph);
  const outcome = driver.advance(until, {
    maxEvents: options.maxEvents ?? DEFAULT_MAX_EVENTS,
    signal,
    onProgress,
    countPeriods,
  });
  driver.finish();
  return outcome;
}
