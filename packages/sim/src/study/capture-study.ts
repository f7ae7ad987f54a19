import type { EdgeRow } from '../measure/rows.ts';
import type { Unit } from '../quantity/index.ts';
import { channelRole, type ChannelRole } from './capture-residuals.ts';
import { alignCapture, edgedChannels } from './capture-align.ts';
import { type CaptureFit, type CaptureTask, fitCapture, type FreeValue } from './capture-fit.ts';
import { predictCapture } from './capture-prediction.ts';
import type { StopSignal } from './evaluate.ts';
import type { Study } from './study.ts';
import type { NamedValues, Subject } from './subject.ts';

/** What may stand behind a capture that is not as predicted: one value other than stated, or another circuit. */
export interface Suspect {
  readonly kind: 'capacitance' | 'leakage' | 'resistance' | 'supply' | 'probe' | 'family';
  /** The part, or for a probe the net it is at. */
  readonly part: string;
  /** The family, for `family`. */
  readonly other?: string;
  readonly unit: Unit | null;
  /** Tolerance of the part as a share, where it is stated. */
  readonly tolerance: number | null;
  /** The value it would be, to be estimated; none for `family`. */
  readonly free: FreeValue | null;
  /** The circuit with that value, which also takes the values that trials change, by name. */
  readonly subject: Subject;
}

/** A change of the board by which suspects may be told apart: a resistor of twice the value, or the probe taken off. */
export interface Trial {
  readonly kind: 'resistance' | 'probe';
  /** The resistor, or the net the probe is at. */
  readonly part: string;
  readonly value: number | null;
}

/** A capture, what to estimate, and what may stand behind it. */
export interface CapturePlan {
  readonly task: CaptureTask;
  readonly subject: Subject;
  /** Values to be estimated together, none for no estimate; `subject` takes them. */
  readonly adjust: readonly FreeValue[];
  readonly suspects: readonly Suspect[];
  readonly trials: readonly Trial[];
}

/** The prediction laid under the capture. */
export interface CaptureOverlay {
  readonly what: 'overlay';
  readonly offset: number;
  readonly byEdge: boolean;
  /** The channel and edge by which the two were laid over each other. */
  readonly edge: { readonly channel: number; readonly to: 'high' | 'low' } | null;
  readonly roles: readonly ChannelRole[];
  /** For each channel, the voltage predicted at every sample kept (V); null outside the run. */
  readonly predicted: readonly (readonly (number | null)[])[];
  /** For each channel, when each measured edge comes by the prediction (s); null where it does not. */
  readonly edges: readonly (readonly (number | null)[])[];
  /** For each channel, predicted edges within the capture. */
  readonly expected: readonly number[];
  /** The capture against the board as stated. */
  readonly asStated: CaptureFit;
}

/** What one suspect comes to. */
interface SuspectFit {
  readonly what: 'suspect';
  readonly fit: CaptureFit;
  /**
   * For each trial, how long the first stretch between edges of the channel aligned by would then last (s), if this suspect
   * stands behind the capture; null where it does not end.
   */
  readonly trials: readonly (number | null)[];
}

/** What a job of a capture study gives. */
export type CaptureJob =
  | CaptureOverlay
  | SuspectFit
  | { readonly what: 'estimate'; readonly fit: CaptureFit }
  | { readonly what: 'failed'; readonly reason: string };

/** A capture study as far as it was done, by job: null where it is not done. */
export interface CaptureOutcomes {
  readonly overlay: CaptureOverlay | { readonly what: 'failed'; readonly reason: string } | null;
  /** Null also where nothing is to be estimated. */
  readonly estimate:
    | { readonly what: 'estimate'; readonly fit: CaptureFit }
    | { what: 'failed'; reason: string }
    | null;
  readonly suspects: readonly (SuspectFit | { readonly what: 'failed'; readonly reason: string } | null)[];
  readonly share: number;
}

/** How much longer than the board's own run the trials last: what is doubled takes twice as long. */
const TRIAL_LENGTH = 2.5;

/**
 * A capture as a study: job 0 lays the prediction under it, job 1 estimates the values asked for, and every further job fits
 * one suspect. Each of them aligns for itself, so none needs another.
 */
export function captureStudy(plan: CapturePlan): Study<CaptureJob, CaptureOutcomes> {
  const { suspects, adjust } = plan;
  const jobCount = 2 + suspects.length;
  return {
    jobCount,
    run(index, signal) {
      if (index === 0) return overlayOf(plan, signal);
      if (index === 1) return adjust.length === 0 ? { what: 'failed', reason: '' } : estimateOf(plan, signal);
      return suspectFit(plan, suspects[index - 2]!, signal);
    },
    collect(jobs) {
      return {
        overlay: (jobs.get(0) as CaptureOutcomes['overlay'] | undefined) ?? null,
        estimate: adjust.length === 0 ? null : ((jobs.get(1) as CaptureOutcomes['estimate'] | undefined) ?? null),
        suspects: suspects.map((_, index) => (jobs.get(index + 2) as CaptureOutcomes['suspects'][number]) ?? null),
        share: jobs.size / jobCount,
      };
    },
  };
}

function estimateOf({ task, subject, adjust }: CapturePlan, signal: StopSignal | undefined): CaptureJob | undefined {
  const fit = fitCapture(task, subject, subject, adjust, { rescale: true, signal });
  if (fit === undefined) return undefined;
  return 'failed' in fit ? { what: 'failed', reason: fit.failed } : { what: 'estimate', fit };
}

function overlayOf({ task, subject }: CapturePlan, signal: StopSignal | undefined): CaptureJob | undefined {
  const { capture } = task;
  const first = predictCapture(subject, new Map(), task, [], signal);
  if (first === undefined) return undefined;
  if ('failed' in first) return { what: 'failed', reason: first.failed };
  const alignment = alignCapture(capture, first.edges, task.align);
  if ('failed' in alignment) return { what: 'failed', reason: alignment.failed };
  const { offset, byEdge, edge, shifts } = alignment;
  const instants = capture.times.map((time) => time + offset);
  const prediction = predictCapture(subject, new Map(), task, instants, signal);
  const asStated = fitCapture(task, subject, subject, [], { rescale: false, signal });
  if (prediction === undefined || asStated === undefined) return undefined;
  if ('failed' in prediction) return { what: 'failed', reason: prediction.failed };
  if ('failed' in asStated) return { what: 'failed', reason: asStated.failed };
  const [from, until] = [capture.times[0]! + offset, capture.last + offset];
  return {
    what: 'overlay',
    offset,
    byEdge,
    edge: edge === undefined ? null : { channel: edge.channel, to: edgeOf(task, edge).to },
    roles: capture.channels.map(channelRole),
    predicted: prediction.volts.map((volts) => Array.from(volts, (value) => (Number.isNaN(value) ? null : value))),
    edges: capture.channels.map(({ edges }, channel) =>
      edges.map((_, index) => {
        const shift = shifts[channel] ?? null;
        return shift === null ? null : (prediction.edges[channel]?.[index + shift]?.time ?? null);
      }),
    ),
    expected: prediction.edges.map((rows) => rows.filter(({ time }) => time > from && time < until).length),
    asStated,
  };
}

function edgeOf(
  { capture }: CaptureTask,
  edge: { readonly channel: number; readonly index: number },
): { to: EdgeRow['to'] } {
  return capture.channels[edge.channel]!.edges[edge.index]!;
}

function suspectFit(plan: CapturePlan, suspect: Suspect, signal: StopSignal | undefined): CaptureJob | undefined {
  const { task, subject, trials } = plan;
  const { free } = suspect;
  const fit = fitCapture(task, subject, suspect.subject, free === null ? [] : [free], { rescale: false, signal });
  if (fit === undefined) return undefined;
  if ('failed' in fit) return { what: 'failed', reason: fit.failed };
  const stretches: (number | null)[] = [];
  for (const trial of trials) {
    const stretch = trialStretch(plan, suspect, fit, trial, signal);
    if (stretch === undefined) return undefined;
    stretches.push(stretch);
  }
  return { what: 'suspect', fit, trials: stretches };
}

/** How long the first stretch lasts in a trial; undefined when stopped. */
function trialStretch(
  { task, subject }: CapturePlan,
  suspect: Suspect,
  { values }: CaptureFit,
  trial: Trial,
  signal: StopSignal | undefined,
): number | null | undefined {
  const found = trialValues(suspect, values, trial);
  if (found === undefined) return null;
  const circuit = takesOff(trial, suspect) ? subject : suspect.subject;
  const channel = stretchChannel(task);
  const longer = { ...task, until: TRIAL_LENGTH * task.until };
  const prediction = predictCapture(circuit, found, longer, [], signal);
  if (prediction === undefined) return undefined;
  if ('failed' in prediction) return null;
  const edges = prediction.edges[channel] ?? [];
  const begin = edges.findIndex(({ to }) => to === firstLevel(task, channel));
  const [first, second] = [edges[begin], edges[begin + 1]];
  return begin < 0 || first === undefined || second === undefined ? null : second.time - first.time;
}

/** The channel whose first stretch trials tell: the one aligned by, else the one that is aligned by if nothing else is said. */
export function stretchChannel({ align, capture }: CaptureTask): number {
  if (typeof align === 'object') return align.channel;
  return edgedChannels(capture)[0] ?? 0;
}

/** To which level the first edge of a channel goes, as the alignment wants it or as it was measured. */
export function firstLevel({ align, capture }: CaptureTask, channel: number): 'high' | 'low' | undefined {
  const wanted = typeof align === 'object' ? align.to : undefined;
  return wanted ?? capture.channels[channel]?.edges[0]?.to;
}

/** Whether a trial takes off what the suspect is: without its instrument, the circuit is the one stated. */
function takesOff({ kind, part }: Trial, suspect: Suspect): boolean {
  return kind === 'probe' && suspect.kind === 'probe' && part === suspect.part;
}

/** Values of the circuit in a trial; undefined where the trial has none. */
function trialValues(suspect: Suspect, values: readonly number[], trial: Trial): NamedValues | undefined {
  if (takesOff(trial, suspect)) return new Map();
  const { free } = suspect;
  const found = new Map(free === null ? [] : [[free.name, values[0]!]]);
  if (trial.kind === 'probe') return found;
  if (trial.value === null) return undefined;
  // Also where that resistor is itself the suspect: the one put in its place is as marked, which is why this tells.
  return found.set(trial.part, trial.value);
}
