import { percentText } from '../quantity/index.ts';
import { quantityText } from '../study/sweep-words.ts';
import type { SymptomsResult } from './symptoms-result.ts';

/** Faults named one by one; more are counted. */
const NAMED = 4;
/** Fits told. */
const FITS = 3;

/** What the faults of a board look like, in a few sentences built from their own numbers. */
export function symptomsWords(result: Omit<SymptomsResult, 'sentence'>): string {
  const { rows: faults, count, groups, readings, asBuilt, alike } = result;
  if (asBuilt === null && faults.length === 0) return 'Nothing is computed yet.';
  const healthy = readings.map(({ name, unit }, index) => {
    const value = asBuilt?.[index] ?? null;
    return value === null ? `no ${name}` : `${name} ${quantityText(value, unit)}`;
  });
  const some = faults.length === count ? '' : `, ${faults.length} of them computed so far`;
  const kept = faults.filter(({ build }) => build).length;
  const share = percentText(Number((100 * alike).toPrecision(3)));
  const hidden = groups.find(({ members }) => members.includes(-1));
  const titles = (members: readonly number[]): string => {
    const names = members.filter((member) => member >= 0).map((member) => faults[member]?.title ?? '');
    const rest = names.length - NAMED;
    return rest > 0 ? `${names.slice(0, NAMED).join('; ')}; and ${rest} more` : names.join('; ');
  };
  const unseen =
    hidden === undefined
      ? 'Each changes some reading.'
      : `${hidden.members.length - 1} change no reading by more than ${share} (${titles(hidden.members)}).`;
  const others = groups.filter((group) => group !== hidden);
  const [largest] = [...others].sort((a, b) => b.members.length - a.members.length);
  const look =
    largest === undefined
      ? 'No two of the others look alike.'
      : `${others.length === 1 ? 'One group of others looks' : `${others.length} groups of others look`} alike, the largest: ${titles(largest.members)}.`;
  const separated =
    largest === undefined
      ? []
      : [
          largest.separator === null
            ? 'No further voltage or supply current tells these apart.'
            : `${largest.separator.reading} tells these apart into ${largest.separator.parts.length}.`,
        ];
  return [
    `As built: ${healthy.join(', ')}. ${count} single faults${some}; ${kept} keep every part inside its ratings, ${faults.length - kept} must not be built.`,
    unseen,
    look,
    ...separated,
    ...fitWords(result),
  ].join(' ');
}

function fitWords({ rows: faults, seen, ranked, readings }: Omit<SymptomsResult, 'sentence'>): string[] {
  const [best] = ranked;
  if (best === undefined) return [];
  const read = readings.flatMap(({ name, unit }) => {
    const value = Object.hasOwn(seen, name) ? seen[name] : undefined;
    if (value === undefined) return [];
    return [value === null ? `no ${name}` : `${name} ${quantityText(value, unit)}`];
  });
  const told = ranked.slice(0, FITS).map(({ fault, off }) => {
    const title = fault < 0 ? 'the board as built' : (faults[fault]?.title ?? '');
    return `${title} (off by ${percent(off)})`;
  });
  return [`Seen: ${read.join(', ')}. It fits best: ${told.join('; ')}.`];
}

/** A share in two digits. */
function percent(share: number): string {
  return percentText(Number((100 * share).toPrecision(2)));
}
