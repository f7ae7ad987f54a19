/** One passage of a measured voltage through the level. */
export interface CaptureEdge {
  /** As the file has it (s). */
  readonly time: number;
  readonly to: 'high' | 'low';
  /** Standard uncertainty of the time (s), from the distance of the samples and the noise on the slope. */
  readonly uncertainty: number;
  /** Whether the voltage went from one side to the other within two samples: a jump, not a slope. */
  readonly steep: boolean;
  /** Whether samples are missing there, so that the time is not known. */
  readonly inGap: boolean;
}

/** One measured voltage. */
export interface CaptureChannel {
  /** The net it was measured at. */
  readonly net: string;
  readonly edges: readonly CaptureEdge[];
  /** Edges beyond the most that are kept. */
  readonly edgesLeftOut: number;
  /** At each of the capture's `times`: the sample, and the lowest and highest up to the next (V). */
  readonly values: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Lowest and highest sample of all (V). */
  readonly lowest: number;
  readonly highest: number;
  /** Standard deviation of the noise (V), from how samples differ from the line through their neighbours. */
  readonly noise: number;
}

/** A line of the file that was passed over. */
export interface MalformedLine {
  /** Counted from 1. */
  readonly line: number;
  readonly reason: string;
}

/** A measurement, in an amount of data that does not depend on the length of the file. Plain data. */
export interface Capture {
  /** Rows that were read. */
  readonly rows: number;
  /** Rows that were passed over, and the first of them. */
  readonly malformed: { readonly count: number; readonly first: readonly MalformedLine[] };
  /** Stretches without samples, at least eight times as long as the usual distance, and the first of them. */
  readonly gaps: {
    readonly count: number;
    readonly first: readonly { readonly from: number; readonly until: number }[];
  };
  /** Times of the samples kept (s), ascending: every row, or every `stride`-th of a long file. */
  readonly times: readonly number[];
  readonly stride: number;
  /** Time of the last row (s). */
  readonly last: number;
  readonly channels: readonly CaptureChannel[];
  /** Where edges are counted: high above `level + hysteresis`, low below `level - hysteresis` (V). */
  readonly level: number;
  readonly hysteresis: number;
}

/** Why a measurement cannot be used, in the pieces of a message. */
export interface CaptureFault {
  readonly field: 'data' | 'columns';
  readonly rule: string;
  readonly got: string;
  readonly advice: string;
}
