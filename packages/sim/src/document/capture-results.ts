import type { MalformedLine } from '../capture/capture.ts';
import type { Unit } from '../quantity/index.ts';

/** One measured voltage, laid over the prediction; lists have an entry for each of the result's `times`. */
export interface CapturedNet {
  readonly net: string;
  /** `logic`: only its edges are compared in estimates; `course`: its samples as well. */
  readonly role: 'logic' | 'course';
  /** The samples kept, and the lowest and highest up to the next (V). */
  readonly measured: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** With the values the board states (V); null outside the run. */
  readonly predicted: readonly (number | null)[];
  /** Standard deviation of the noise (V). */
  readonly noise: number;
}

/** One measured edge and its predicted counterpart, in the time of the run (s). */
export interface CapturedEdge {
  readonly net: string;
  readonly to: 'high' | 'low';
  readonly measured: number;
  /** Standard uncertainty of the measured time. */
  readonly uncertainty: number;
  readonly predicted: number | null;
  /** Predicted less measured; 0 where it is no more than rounding. */
  readonly residual: number | null;
}

/** A value that was estimated. */
export interface CaptureEstimate {
  readonly name: string;
  readonly unit: Unit | null;
  readonly value: number;
  /** As the board states it; null for none. */
  readonly marked: number | null;
  /** Standard uncertainty (SI), and limits that hold the true value 95 times in 100; null where the capture does not tell. */
  readonly uncertainty: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** One thing that may stand behind the difference. */
export interface CaptureExplanation {
  readonly kind: 'capacitance' | 'leakage' | 'resistance' | 'supply' | 'probe' | 'family';
  /** The part; for a probe, the net. */
  readonly part: string;
  /** What it would have to be (SI); null for a family. */
  readonly value: number | null;
  readonly unit: Unit | null;
  /** The family that a timer would have to be of; null for other kinds. */
  readonly family: string | null;
  readonly marked: number | null;
  /** Residuals that are left: edges (s) and samples (V), roots of the mean square; null where there are none. */
  readonly edgeResidual: number | null;
  readonly sampleResidual: number | null;
  /** Mean squared residual, each over its uncertainty: about 1 where only noise is left. */
  readonly meanSquare: number;
  /** `full`: only noise is left; `part`: closer than as stated; `none`: no help. */
  readonly explains: 'full' | 'part' | 'none';
  /** Whether it explains the capture as well as the first one. */
  readonly asGoodAsFirst: boolean;
  readonly sentence: string;
}

/** A measurement held against the prediction, SI units. */
export interface CaptureResult {
  readonly kind: 'capture';
  readonly ok: true;
  readonly board: string;
  /** The window of the run (s). */
  readonly from: number;
  readonly until: number;
  /** The file, or `the document` for rows written into it. */
  readonly source: string;
  readonly rows: number;
  /** Every `stride`-th row is kept as a sample; edges are found in all. */
  readonly stride: number;
  readonly malformed: { readonly count: number; readonly first: readonly MalformedLine[] };
  readonly gaps: {
    readonly count: number;
    readonly first: readonly { readonly from: number; readonly until: number }[];
  };
  /** Edges are counted beyond `level` plus and minus `hysteresis` (V). */
  readonly level: number;
  readonly hysteresis: number;
  /** Added to a time of the file, gives the time of the run (s); null where they could not be laid over each other. */
  readonly offset: number | null;
  /** Times of the samples kept, in the time of the run (s). */
  readonly times: readonly number[];
  readonly nets: readonly CapturedNet[];
  readonly edges: readonly CapturedEdge[];
  /** With the values stated: roots of the mean square (s, V); null where nothing is compared. */
  readonly residuals: { readonly edges: number | null; readonly samples: number | null };
  /** Values estimated together; null where none was asked for or the search failed. */
  readonly fit: {
    readonly estimates: readonly CaptureEstimate[];
    readonly combinations: readonly {
      readonly names: readonly string[];
      readonly as: 'nothing' | 'product' | 'quotient' | 'together';
      readonly factor: number | null;
      readonly relative: number | null;
    }[];
    readonly edgeResidual: number | null;
    readonly sampleResidual: number | null;
  } | null;
  /** The best first. */
  readonly explanations: readonly CaptureExplanation[];
  /** What was read, how it lies, what was estimated, what explains it, and what would tell explanations apart. */
  readonly sentences: {
    readonly reading: readonly string[];
    readonly overlay: readonly string[];
    readonly fit: readonly string[];
    readonly apart: readonly string[];
  };
  /** What to be careful of where this is measured. */
  readonly cautions: readonly string[];
  /** Share of the work that was done: 1 but for partial results. */
  readonly share: number;
}
