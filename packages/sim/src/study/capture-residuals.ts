import type { Capture, CaptureChannel } from '../capture/capture.ts';
import type { Alignment } from './capture-align.ts';
import type { Prediction } from './capture-prediction.ts';

/** Most samples of the capture that a fit looks at; more are thinned out evenly. */
const MOST_SAMPLES = 600;
/** Samples this many distances from a jump, measured or predicted, are not compared: their instant decides everything. */
const GUARD = 2;
/** The least uncertainty of a voltage, as a share of the channel's range: what a model of parts can claim at all. */
const LEAST_NOISE = 1e-4;
/** A channel is logic if hardly any sample lies between: this share of its range from either end, and so few of them. */
const NEAR_END = 0.15;
const FEW_BETWEEN = 0.005;

/** Whether a voltage goes between two levels by jumps, so that only the times of its edges tell something, or has a course. */
export type ChannelRole = 'logic' | 'course';

/** How much the edges, and the samples, count (1 for what their uncertainties say). */
export interface GroupWeights {
  readonly edges: number;
  readonly samples: number;
}

interface ComparedEdge {
  readonly channel: number;
  readonly index: number;
  readonly position: number;
  readonly uncertainty: number;
}

interface ComparedSample {
  readonly channel: number;
  /** Position among the instants. */
  readonly instant: number;
  readonly value: number;
  readonly uncertainty: number;
}

/** Tells logic from a course by the samples. */
export function channelRole({ values, lowest, highest, edges }: CaptureChannel): ChannelRole {
  const margin = NEAR_END * (highest - lowest);
  const between = values.filter((value) => value > lowest + margin && value < highest - margin).length;
  return between <= 2 * edges.length + FEW_BETWEEN * values.length ? 'logic' : 'course';
}

/**
 * What of a capture is held against a prediction in a fit: the times of all edges that are jumps, and of channels with a
 * course the samples that are not beside a jump.
 */
export class ComparedCapture {
  /** Times of the samples compared, as the file has them (s). */
  readonly times: readonly number[];
  /** Distance between them (s). */
  readonly spacing: number;
  readonly edges: readonly ComparedEdge[];
  readonly samples: readonly ComparedSample[];
  readonly #capture: Capture;
  readonly #alignment: Alignment;
  readonly #until: number;

  /** @param until end of the run (s): when a predicted edge comes later, if at all. */
  constructor(capture: Capture, alignment: Alignment, until: number) {
    this.#capture = capture;
    this.#alignment = alignment;
    this.#until = until;
    const every = Math.max(1, Math.ceil(capture.times.length / MOST_SAMPLES));
    const kept = capture.times.map((_, index) => index).filter((index) => index % every === 0);
    this.times = kept.map((index) => capture.times[index]!);
    this.spacing = (capture.last - capture.times[0]!) / Math.max(1, capture.times.length - 1);
    const roles = capture.channels.map(channelRole);
    this.edges = capture.channels.flatMap(({ edges }, channel) => {
      const shift = alignment.shifts[channel] ?? null;
      if (shift === null) return [];
      return edges.flatMap(({ steep, inGap, uncertainty }, index) => {
        const counts = !inGap && (steep || roles[channel] === 'logic');
        return counts ? [{ channel, index, position: index + shift, uncertainty }] : [];
      });
    });
    this.samples = capture.channels.flatMap((channel, which) => {
      if (roles[which] === 'logic') return [];
      const uncertainty = Math.max(channel.noise, LEAST_NOISE * (channel.highest - channel.lowest));
      return kept.flatMap((index, instant) =>
        isSteep(channel, index, uncertainty)
          ? []
          : [{ channel: which, instant, value: channel.values[index]!, uncertainty }],
      );
    });
  }

  /** How many residuals there are. */
  get count(): number {
    return this.edges.length + this.samples.length;
  }

  /** When an edge comes by the prediction, or the end of the run for one that does not come. */
  predictedTime({ channel, position }: ComparedEdge, { edges }: Prediction): number {
    return edges[channel]?.[position]?.time ?? (position < 0 ? 0 : this.#until);
  }

  /**
   * Which samples are compared: not those between a measured edge of their channel and its predicted counterpart, which the
   * edge speaks for already, nor those outside the run.
   */
  mask(prediction: Prediction, offset: number): Uint8Array {
    const guard = GUARD * this.spacing;
    const spans = this.edges.map((edge) => {
      const measured = this.#capture.channels[edge.channel]!.edges[edge.index]!.time + offset;
      const predicted = this.predictedTime(edge, prediction);
      const [from, until] = [Math.min(measured, predicted) - guard, Math.max(measured, predicted) + guard];
      return { channel: edge.channel, from, until };
    });
    return Uint8Array.from(this.samples, ({ channel, instant }) => {
      const time = this.times[instant]! + offset;
      if (time < 0 || time >= this.#until) return 0;
      return spans.some((span) => span.channel === channel && time > span.from && time < span.until) ? 0 : 1;
    });
  }

  /** All residuals, predicted less measured, each divided by its uncertainty; 0 for samples that are not compared. */
  residuals(prediction: Prediction, offset: number, mask: Uint8Array, weights: GroupWeights): Float64Array {
    const found = new Float64Array(this.count);
    for (const [at, edge] of this.edges.entries()) {
      const measured = this.#capture.channels[edge.channel]!.edges[edge.index]!.time + offset;
      found[at] = (weights.edges * (this.predictedTime(edge, prediction) - measured)) / edge.uncertainty;
    }
    for (const [at, { channel, instant, value, uncertainty }] of this.samples.entries()) {
      if (mask[at] === 0) continue;
      const volts = prediction.volts[channel]![instant]!;
      if (Number.isNaN(volts)) continue;
      found[this.edges.length + at] = (weights.samples * (volts - value)) / uncertainty;
    }
    return found;
  }

  /** The alignment it was made with. */
  get alignment(): Alignment {
    return this.#alignment;
  }
}

/** Whether a sample stands beside a jump of its channel. */
function isSteep({ values, low, high, lowest, highest }: CaptureChannel, index: number, noise: number): boolean {
  const allowed = 8 * noise + 0.1 * (highest - lowest);
  const at = values[index]!;
  const beside = [index - 1, index, index + 1].filter((each) => each >= 0 && each < values.length);
  return beside.some((each) => high[each]! - at > allowed || at - low[each]! > allowed);
}
