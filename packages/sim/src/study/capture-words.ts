import { listedText } from '../core/listed-text.ts';
import { percentText, spokenName, type Unit } from '../quantity/index.ts';
import type { CaptureFit } from './capture-fit.ts';
import type { CaptureOverlay, Suspect } from './capture-study.ts';
import type { Combination, Estimate } from './identify.ts';
import { quantityText } from './sweep-words.ts';

/** Mean squared residuals (1 for what the uncertainties say) up to which a capture agrees within its noise. */
const WITHIN_NOISE = 1.5;
/** No instrument shows residuals below this (s, V). */
const ROUNDING = 1e-12;

/** How a capture lies beside the prediction of the board as stated. */
export function overlayWords(overlay: CaptureOverlay, nets: readonly string[]): string[] {
  const { offset, byEdge, edge, asStated, expected, edges } = overlay;
  const net = nets[edge?.channel ?? 0] ?? '';
  const laid =
    byEdge && edge !== null
      ? `The first ${edge.to === 'high' ? 'rise' : 'fall'} of ${net} is laid over the predicted one, ${quantityText(Math.abs(offset), 's')} ${offset < 0 ? 'earlier' : 'later'} in the time of the run than in that of the file.`
      : 'The time of the file is taken as the time of the run.';
  const counts = nets.flatMap((name, channel) => {
    const measured = edges[channel]?.length ?? 0;
    const predicted = expected[channel] ?? 0;
    if (measured === predicted) return [];
    return [
      `In the time of the capture, ${name} has ${edgesText(measured)} measured and ${edgesText(predicted)} predicted.`,
    ];
  });
  const verdict = agrees(asStated)
    ? 'With the values stated, the prediction agrees with the capture within its noise'
    : 'With the values stated, the prediction does not agree with the capture';
  return [laid, ...counts, `${verdict}: ${residualText(asStated)}.`];
}

/** Whether what is left is no more than the noise. */
export function agrees({ cost, degrees }: CaptureFit): boolean {
  return cost <= WITHIN_NOISE * Math.max(1, degrees);
}

/** How far prediction and capture are apart. */
export function residualText({ edges, edgeResidual, samples, sampleResidual }: CaptureFit): string {
  const parts = [
    ...(edgeResidual === null ? [] : [`${edgesText(edges)} ${quantityText(seen(edgeResidual), 's')} apart`]),
    ...(sampleResidual === null
      ? []
      : [`${samples} ${samples === 1 ? 'sample' : 'samples'} ${quantityText(seen(sampleResidual), 'V')} apart`]),
  ];
  return parts.length === 0 ? 'there is nothing to compare' : `${parts.join(', ')} (root of the mean square)`;
}

/** Whether prediction and capture are the same but for rounding. */
export function isNothing({ edgeResidual, sampleResidual }: CaptureFit): boolean {
  return seen(edgeResidual ?? 0) === 0 && seen(sampleResidual ?? 0) === 0;
}

/** A residual, with what is only rounding taken for nothing. */
function seen(residual: number): number {
  return residual < ROUNDING ? 0 : residual;
}

/** What a fit says of the values it was to estimate. @param units of the values, in their order. */
export function estimateWords(fit: CaptureFit, units: readonly (Unit | null)[]): string[] {
  const { identified, degrees, converged } = fit;
  const unitOf = new Map(identified.estimates.map(({ name }, index) => [name, units[index] ?? null]));
  const known = identified.estimates.filter(({ relative }) => relative !== null);
  return [
    ...known.map((estimate) => estimateText(estimate, unitOf.get(estimate.name) ?? null)),
    ...identified.combinations.map(combinationText),
    ...identified.close.map(
      ({ names: [a, b], correlation }) =>
        `The errors of ${a} and ${b} go ${correlation < 0 ? 'against each other' : 'together'}: their ${correlation < 0 ? 'product' : 'quotient'} is known far better than either.`,
    ),
    ...(degrees > 0 || known.length === 0
      ? []
      : [
          'The capture has no more edges and samples than there are values: nothing is left to check them by, and how uncertain they are is only how uncertain the times of the edges are.',
        ]),
    ...(converged ? [] : ['The search ran out of steps: take the values with care.']),
    `With these values: ${residualText(fit)}.`,
  ];
}

function estimateText({ name, value, marked, relative, low, high }: Estimate, unit: Unit | null): string {
  const [text, spread, from, to] = [value, value * (relative ?? 0), low ?? value, high ?? value].map((each) =>
    quantityText(each, unit, 4),
  );
  const beside = marked === null ? '' : `, ${offText(value, marked)} what is stated`;
  return `${spokenName(name)} is ${text} with a standard uncertainty of ${spread}${beside}; 95 times in 100 the true value is between ${from} and ${to}.`;
}

function combinationText({ names, as, factor, relative }: Combination): string {
  const listed = listedText(names.map(spokenName));
  switch (as) {
    case 'nothing':
      return `The capture tells nothing of ${listed}: hardly anything measured depends on it.`;
    case 'together':
      return `${listed} cannot be told apart by this capture: take one of them out of adjust, or measure it by itself.`;
    case 'product':
    case 'quotient': {
      const size =
        factor === null
          ? ''
          : `, which is ${factor.toPrecision(4)} times that of the values stated, with a standard uncertainty of ${shareText(relative ?? 0)}`;
      return `${listed} can be told only by their ${as}${size}. Measure one of them by itself to know the other.`;
    }
  }
}

/** What one suspect would have to be. */
export function suspectText({ kind, part, other, unit, tolerance, free }: Suspect, { values }: CaptureFit): string {
  const value = values[0] ?? NaN;
  const text = quantityText(value, unit, 4);
  const marked = free?.marked ?? null;
  const off = marked === null ? '' : `, ${offText(value, marked)} its mark`;
  switch (kind) {
    case 'capacitance':
    case 'resistance':
      return `${part} would have to be ${text}${off}, ${toleranceText(value, marked, tolerance)}`;
    case 'leakage':
      return `${part} would have to leak as if ${text} lay across it`;
    case 'supply':
      return `${part} would have to give ${text}${marked === null ? '' : `, ${offText(value, marked)} what is stated`}`;
    case 'probe':
      return `the instrument at ${part} would have to load it with ${text}`;
    case 'family':
      return `${part} would have to be a timer of the family ${other ?? ''}`;
  }
}

/** The short name of a suspect. */
export function suspectName({ kind, part, other }: Suspect): string {
  const of = { capacitance: 'capacitance', leakage: 'leakage', resistance: 'resistance', supply: 'voltage' } as const;
  if (kind === 'probe') return `a load at ${part}`;
  return kind === 'family' ? `${part} of the family ${other ?? ''}` : `the ${of[kind]} of ${part}`;
}

function toleranceText(value: number, marked: number | null, tolerance: number | null): string {
  if (tolerance === null || marked === null) return 'whose tolerance is not stated';
  const inside = Math.abs(value / marked - 1) <= tolerance;
  return `${inside ? 'inside' : 'outside'} its tolerance of ${shareText(tolerance)}`;
}

/** `18 % above`, `as`: how a value lies to what is marked. */
function offText(value: number, marked: number): string {
  const off = value / marked - 1;
  return `${shareText(Math.abs(off))} ${off < 0 ? 'below' : 'above'}`;
}

/** A share in per cent with two digits. */
function shareText(share: number): string {
  const percent = 100 * share;
  const text = percent >= 10 ? String(Math.round(percent)) : String(Number(percent.toPrecision(2)));
  return percentText(Number(text));
}

function edgesText(count: number): string {
  return count === 0 ? 'no edges' : `${count} ${count === 1 ? 'edge' : 'edges'}`;
}
