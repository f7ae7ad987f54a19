import type { CaptureFit } from './capture-fit.ts';
import { firstLevel, type CapturePlan, type CaptureOutcomes, stretchChannel, type Suspect } from './capture-study.ts';
import { agrees, suspectName } from './capture-words.ts';
import { quantityText } from './sweep-words.ts';

/** A suspect with its fit, ranked. */
export interface RankedSuspect {
  readonly suspect: Suspect;
  readonly fit: CaptureFit;
  readonly trials: readonly (number | null)[];
  /** `full`: what is left is noise; `part`: the capture comes closer, more is amiss; `none`: no help. */
  readonly explains: 'full' | 'part' | 'none';
  /** Whether it does so as well as the first. */
  readonly asGoodAsFirst: boolean;
}

/** Sums of squares that differ by less than so many variances are equally likely as a rule: two standard uncertainties. */
const EQUALLY_WELL = 4;
/** A suspect that leaves more than this share of the sum of squares is no help. */
const HELPS_BELOW = 0.9;
/** Trials tell suspects apart whose stretches differ by this share at least. */
const TELLS_FROM = 0.05;
/** Pairs that are told apart in words. */
const MOST_PAIRS = 3;

/** The suspects by how well they explain the capture, the best first; those without a fit left out. */
export function rankSuspects(plan: CapturePlan, { overlay, suspects }: CaptureOutcomes): RankedSuspect[] {
  if (overlay?.what !== 'overlay') return [];
  const found = plan.suspects.flatMap((suspect, index) => {
    const outcome = suspects[index];
    return outcome?.what === 'suspect' ? [{ suspect, fit: outcome.fit, trials: outcome.trials }] : [];
  });
  found.sort((a, b) => a.fit.cost - b.fit.cost);
  const best = found[0]?.fit;
  const variance = best === undefined ? 1 : Math.max(1, best.cost / Math.max(1, best.degrees));
  return found.map((each) => {
    const helps = each.fit.cost < HELPS_BELOW * overlay.asStated.cost;
    return {
      ...each,
      explains: !helps ? 'none' : agrees(each.fit) ? 'full' : 'part',
      asGoodAsFirst: helps && each.fit.cost - (best?.cost ?? 0) < EQUALLY_WELL * variance,
    };
  });
}

/** Which measurement would tell apart suspects that explain the capture equally well. */
export function separationWords(plan: CapturePlan, ranked: readonly RankedSuspect[]): string[] {
  const [first, ...others] = ranked.filter(({ asGoodAsFirst }) => asGoodAsFirst);
  if (first === undefined) return [];
  if (first.fit.degrees < 1) {
    return [
      'So little was measured that any one value explains it. Capture more edges, or the voltage of a capacitor as well.',
    ];
  }
  return others.slice(0, MOST_PAIRS).map((other) => {
    const both = `${capital(suspectName(first.suspect))} and ${suspectName(other.suspect)} explain the capture equally well.`;
    return `${both} ${trialWords(plan, first, other) ?? aloneWords(first.suspect, other.suspect)}`;
  });
}

function trialWords({ task, trials }: CapturePlan, first: RankedSuspect, other: RankedSuspect): string | undefined {
  const gaps = trials.map((_, index) => {
    const [a, b] = [first.trials[index] ?? null, other.trials[index] ?? null];
    return a === null || b === null ? 0 : Math.abs(a - b) / Math.max(a, b);
  });
  const widest = gaps.indexOf(Math.max(...gaps));
  const trial = trials[widest];
  if (trial === undefined || gaps[widest]! < TELLS_FROM) return undefined;
  const channel = stretchChannel(task);
  const net = task.capture.channels[channel]?.net ?? '';
  const to = firstLevel(task, channel) === 'high' ? 'high' : 'low';
  const change =
    trial.kind === 'probe'
      ? `With the instrument taken off ${trial.part}`
      : `With a resistor of ${quantityText(trial.value ?? NaN, 'Ω')} in place of ${trial.part}`;
  const [a, b] = [first, other].map(({ trials: found }) => quantityText(found[widest] ?? NaN, 's'));
  return `${change}, ${net} would be ${to} for ${a} if it is the first, and for ${b} if it is the second.`;
}

function aloneWords(first: Suspect, other: Suspect): string {
  const supply = [first, other].find(({ kind }) => kind === 'supply');
  if (supply !== undefined) return `Measure the voltage of ${supply.part} while the board runs.`;
  const parts = [...new Set([first, other].filter(({ kind }) => kind !== 'probe').map(({ part }) => part))];
  return `Measuring ${parts.join(' or ')} alone tells which: switch the board off, discharge the capacitors, and take the part out first.`;
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
