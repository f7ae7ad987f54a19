import type { EdgeRow } from '../measure/rows.ts';
import { edgeObserver } from '../measure/edges.ts';
import { runCircuit } from '../run/simulate.ts';
import { instantObserver } from '../trace/instant-observer.ts';
import type { StopSignal } from './evaluate.ts';
import type { NamedValues, Subject } from './subject.ts';

/** What a run is asked that a capture is held against. */
export interface PredictionQuestion {
  /** Nets of the circuit, one for each channel of the capture. */
  readonly nets: readonly string[];
  /** Above this (V) a net counts as high. */
  readonly level: number;
  /** Edges before `from` (s), and one at time 0 itself, are no edges that could be seen; the run ends at `until`. */
  readonly from: number;
  readonly until: number;
  readonly maxEvents: number;
}

/** What a run says would be measured. */
export interface Prediction {
  /** For each net, its edges in the order of time. */
  readonly edges: readonly (readonly EdgeRow[])[];
  /** For each net, its voltage at each of the instants asked for; NaN outside the run. */
  readonly volts: readonly Float64Array[];
}

/** A prediction, why there is none, or undefined when the signal stopped it. */
export type PredictionOutcome = Prediction | { readonly failed: string } | undefined;

/** Runs a subject and looks at edges and at voltages at given instants (s), in any order. */
export function predictCapture(
  subject: Subject,
  values: NamedValues,
  question: PredictionQuestion,
  instants: readonly number[],
  signal?: StopSignal,
): PredictionOutcome {
  if (signal?.aborted === true) return undefined;
  const built = subject(values);
  if (!built.ok) return { failed: built.reason };
  const { nets, level, from, until, maxEvents } = question;
  const window = { from, until };
  const edges = nets.map((net) => edgeObserver(net, level, window));
  const inside = instants.filter((time) => time >= 0 && time < until);
  const moments = inside.length === 0 ? undefined : instantObserver(inside);
  const outcome = runCircuit(built.context.circuit, {
    until,
    observers: [...edges, ...(moments === undefined ? [] : [moments])],
    maxEvents,
    signal,
  });
  if (outcome.code === 'stopped') return undefined;
  if (!outcome.ok) return { failed: outcome.message ?? 'the run ended before its time' };
  const rows = new Map(moments?.result().map((row) => [row.time, row.nets]));
  return {
    edges: edges.map((observer) => observer.result().edges.filter(({ time }) => time > 0)),
    volts: nets.map((net) =>
      Float64Array.from(instants, (time) => {
        const row = rows.get(time);
        // The reference net is not among the signals of a run.
        return row === undefined ? NaN : (row.get(net) ?? 0);
      }),
    ),
  };
}
