import type { Capture } from '../capture/capture.ts';
import { formatQuantity, type Unit } from '../quantity/index.ts';
import type { CaptureFit } from '../study/capture-fit.ts';
import type { CaptureOutcomes, CapturePlan, CaptureOverlay } from '../study/capture-study.ts';
import { agrees, estimateWords, isNothing, overlayWords, residualText, suspectText } from '../study/capture-words.ts';
import { type RankedSuspect, rankSuspects, separationWords } from '../study/suspects.ts';
import type { CapturedEdge, CapturedNet, CaptureExplanation, CaptureResult } from './capture-results.ts';
import type { CaptureCell } from './notebook-document.ts';

/** What a result needs beside the outcomes. */
interface Planned {
  readonly plan: CapturePlan;
  /** Units of the values to be estimated. */
  readonly units: readonly (Unit | null)[];
  readonly source: string;
  readonly cautions: readonly string[];
}

/** Makes the result of a capture cell of what its jobs gave. */
export function captureResult(cell: CaptureCell, planned: Planned, outcomes: CaptureOutcomes): CaptureResult {
  const { plan, units, source, cautions } = planned;
  const { capture } = plan.task;
  const overlay = outcomes.overlay?.what === 'overlay' ? outcomes.overlay : undefined;
  const fit = outcomes.estimate?.what === 'estimate' ? outcomes.estimate.fit : undefined;
  const ranked = rankSuspects(plan, outcomes);
  const offset = overlay?.offset ?? 0;
  return {
    kind: 'capture',
    ok: true,
    board: cell.board,
    from: cell.from,
    until: cell.until,
    source,
    rows: capture.rows,
    stride: capture.stride,
    malformed: capture.malformed,
    gaps: capture.gaps,
    level: capture.level,
    hysteresis: capture.hysteresis,
    offset: overlay?.offset ?? null,
    times: capture.times.map((time) => time + offset),
    nets: capture.channels.map(({ net, values, low, high, noise }, channel): CapturedNet => {
      const predicted = overlay?.predicted[channel] ?? values.map(() => null);
      return { net, role: overlay?.roles[channel] ?? 'course', measured: values, low, high, predicted, noise };
    }),
    edges: edgeRows(capture, overlay),
    residuals: {
      edges: overlay?.asStated.edgeResidual ?? null,
      samples: overlay?.asStated.sampleResidual ?? null,
    },
    fit: fit === undefined ? null : fitResult(fit, units),
    explanations: ranked.map(explanation),
    sentences: {
      reading: readingWords(capture, source),
      overlay: overlayText(outcomes, capture),
      fit: fitText(outcomes, units),
      apart: apartText(plan, ranked, overlay),
    },
    cautions,
    share: outcomes.share,
  };
}

/** Roundings that a difference of times may hold: half a unit of each time, of their sum and of the difference. */
const ROUNDINGS = 4;

function edgeRows(capture: Capture, overlay: CaptureOverlay | undefined): CapturedEdge[] {
  const offset = overlay?.offset ?? 0;
  const rows = capture.channels.flatMap(({ net, edges }, channel) =>
    edges.map(({ time, to, uncertainty }, index): CapturedEdge => {
      const measured = time + offset;
      const predicted = overlay?.edges[channel]?.[index] ?? null;
      return {
        net,
        to,
        measured,
        uncertainty,
        predicted,
        residual: predicted === null ? null : lessMeasured(predicted, time, offset),
      };
    }),
  );
  return rows.sort((a, b) => a.measured - b.measured);
}

/** Predicted less measured: 0 where no more is left than the rounding of the three times that it is made of. */
function lessMeasured(predicted: number, time: number, offset: number): number {
  const residual = predicted - (time + offset);
  const rounding = ROUNDINGS * Number.EPSILON * Math.max(Math.abs(predicted), Math.abs(time), Math.abs(offset));
  return Math.abs(residual) <= rounding ? 0 : residual;
}

function fitResult(fit: CaptureFit, units: readonly (Unit | null)[]): CaptureResult['fit'] {
  const { identified, edgeResidual, sampleResidual } = fit;
  return {
    estimates: identified.estimates.map(({ name, value, marked, relative, low, high }, index) => ({
      name,
      unit: units[index] ?? null,
      value,
      marked,
      uncertainty: relative === null ? null : relative * value,
      low,
      high,
    })),
    combinations: identified.combinations,
    edgeResidual,
    sampleResidual,
  };
}

function explanation({ suspect, fit, explains, asGoodAsFirst }: RankedSuspect): CaptureExplanation {
  const { kind, part, unit, free, other } = suspect;
  const { edgeResidual, sampleResidual, cost, degrees } = fit;
  const left = isNothing(fit) ? 'Nothing is left' : explains === 'full' ? 'What is left is noise' : 'What is left';
  return {
    kind,
    part,
    value: fit.values[0] ?? null,
    unit,
    family: other ?? null,
    marked: free?.marked ?? null,
    edgeResidual,
    sampleResidual,
    meanSquare: cost / Math.max(1, degrees),
    explains,
    asGoodAsFirst,
    sentence: `${suspectText(suspect, fit)}. ${left}: ${residualText(fit)}.`,
  };
}

/** What was read, and what was passed over. */
function readingWords(capture: Capture, source: string): string[] {
  const { rows, stride, malformed, gaps, times, last, level, hysteresis, channels } = capture;
  const span = `${formatQuantity(times[0]!, 's')} to ${formatQuantity(last, 's')}`;
  const first = malformed.first[0];
  const [low, high] = [level - hysteresis, level + hysteresis].map((each) => formatQuantity(each, 'V'));
  const leftOut = channels.filter(({ edgesLeftOut }) => edgesLeftOut > 0);
  return [
    `${rows} rows of ${source}, ${span} in its own time${stride > 1 ? `; one of every ${stride} is kept as a sample` : ''}.`,
    ...(first === undefined
      ? []
      : [
          `${malformed.count} ${malformed.count === 1 ? 'line was' : 'lines were'} passed over, the first of them line ${first.line}: ${first.reason}.`,
        ]),
    ...gaps.first
      .slice(0, 1)
      .map(
        ({ from, until }) =>
          `Samples are missing ${gaps.count === 1 ? 'once' : `${gaps.count} times, first`} from ${formatQuantity(from, 's')} to ${formatQuantity(until, 's')}; edges there are not compared.`,
      ),
    `A net counts as high once it is above ${high ?? ''}, and as low once it is below ${low ?? ''}.`,
    ...leftOut.map(({ net, edgesLeftOut }) => `${net} has ${edgesLeftOut} more edges than are kept.`),
  ];
}

function overlayText({ overlay }: CaptureOutcomes, { channels }: Capture): string[] {
  if (overlay === null) return ['The prediction is not computed yet.'];
  if (overlay.what === 'failed') return [`The capture could not be laid over the prediction: ${overlay.reason}.`];
  return overlayWords(
    overlay,
    channels.map(({ net }) => net),
  );
}

function fitText({ estimate }: CaptureOutcomes, units: readonly (Unit | null)[]): string[] {
  if (estimate === null) return [];
  return estimate.what === 'failed'
    ? [`The values could not be estimated: ${estimate.reason}.`]
    : estimateWords(estimate.fit, units);
}

function apartText(plan: CapturePlan, ranked: readonly RankedSuspect[], overlay: CaptureOverlay | undefined): string[] {
  if (overlay === undefined || ranked.length === 0) return [];
  if (agrees(overlay.asStated)) return ['There is nothing to explain.'];
  if (ranked[0]?.explains === 'none') return ['No single value and no other family brings the prediction closer.'];
  return separationWords(plan, ranked);
}
