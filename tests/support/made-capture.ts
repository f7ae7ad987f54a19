import { seededRandom } from '#sim/core/random.ts';
import { simulate } from '#sim/run/run.ts';
import type { CircuitData } from '#sim/circuit/index.ts';

/** What a made measurement looks like. */
export interface MadeCapture {
  readonly nets: readonly string[];
  /** Time of the run (s) at the first sample, and distance of samples. */
  readonly from: number;
  readonly until: number;
  readonly step: number;
  /** Standard deviation of the noise (V). */
  readonly noise: number;
  readonly seed: number;
  /** What the file calls the time of the first sample; `from` if not given. */
  readonly begins?: number;
}

/** A measurement made by running a circuit, sampling its nets and adding noise: CSV with a column a net. */
export function madeCapture(circuit: CircuitData, made: MadeCapture): string {
  const { nets, from, until, step, noise, seed, begins = from } = made;
  const run = simulate(circuit, { until });
  const traces = nets.map((net) => run.trace(net));
  const normal = normalNumbers(seed);
  const rows = Array.from({ length: Math.floor((until - from) / step) }, (_, index) => {
    const volts = traces.map((trace) => (trace.at(from + index * step) + noise * normal()).toFixed(6));
    return [(begins + index * step).toPrecision(12), ...volts].join(',');
  });
  return `${['time_s', ...nets.map((net) => `${net}_V`)].join(',')}\n${rows.join('\n')}\n`;
}

/** Normal random numbers by the method of Box and Muller (Ann. Math. Statist. 29 (1958) 610, from memory). */
export function normalNumbers(seed: number): () => number {
  const random = seededRandom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next());
}
