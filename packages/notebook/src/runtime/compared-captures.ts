import type { CaptureResult } from '@two-thirds/sim/document';
import { formatQuantity } from '@two-thirds/sim/quantity';
import { pointText } from '../edit/load-point.ts';
import { type Comparison, toldEntries } from './comparison.ts';
import { twoTexts } from './two-texts.ts';

const DIGITS = 4;

/** What is different in a measurement laid over its prediction: the values estimated, what is apart, what explains it best. */
export function comparedCaptures(now: CaptureResult, before: CaptureResult): Comparison {
  const apart = (['edges', 'samples'] as const).flatMap((what): [string, string, string][] => {
    const [is, was] = [now.residuals[what], before.residuals[what]];
    return is === null && was === null
      ? []
      : [[`${what} apart by`, ...twoTexts(is, was, what === 'edges' ? 's' : 'V')]];
  });
  const estimates = (now.fit?.estimates ?? []).map(({ name }): [string, string, string] => [
    name,
    estimateText(now, name),
    estimateText(before, name),
  ]);
  const [is, was] = [bestOf(now), bestOf(before)];
  const best: [string, string, string][] = is === was && is === 'nothing' ? [] : [['best explained by', is, was]];
  return toldEntries([...estimates, ...apart, ...best]);
}

/** A value estimated, with its uncertainty. */
function estimateText({ fit }: CaptureResult, name: string): string {
  const found = fit?.estimates.find((each) => each.name === name);
  if (found === undefined) return 'not estimated';
  const { value, unit, uncertainty } = found;
  if (uncertainty === null) return 'not told';
  const by =
    unit === null ? String(Number(uncertainty.toPrecision(2))) : formatQuantity(uncertainty, unit, { digits: 2 });
  return `${pointText(value, unit, DIGITS)} ± ${by}`;
}

/** The explanation that comes first, if it helps at all. */
function bestOf({ explanations }: CaptureResult): string {
  const [best] = explanations;
  if (best === undefined || best.explains === 'none') return 'nothing';
  const { kind, part, value, unit, family } = best;
  return `${kind} of ${part} ${value === null ? (family ?? '') : pointText(value, unit, DIGITS)}`;
}
