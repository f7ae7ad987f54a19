import { type CircuitView, exactText, roundedText, summedText } from './circuit-view.ts';
import type { Part } from './description.ts';
import { REVERSE_LIMIT } from './part-limits.ts';

const HARM = 'A reversed electrolytic capacitor heats up and may burst; turn it round.';

/** Polarised capacitors the wrong way round, and capacitors whose rating the sources exceed. */
export function capacitorDangers(view: CircuitView): string[] {
  return view.ofKind('capacitor').flatMap((part) => [...polarityDangers(view, part), ...ratingDangers(view, part)]);
}

/**
 * Only what is certain: sources can charge it the wrong way and never the right way. Where both can be, it depends on
 * levels, which the limits watched in a run tell.
 */
function polarityDangers(view: CircuitView, { name, nets, values }: Part): string[] {
  if (values.polarised !== true) return [];
  const { a = '', b = '' } = nets;
  const initial = values.initial as number;
  const starts =
    initial < -REVERSE_LIMIT ? [`${name} starts the wrong way round, at ${exactText(initial, 'V')}. ${HARM}`] : [];
  const held = view.held.between(a, b);
  const reversed = held === undefined ? view.across(name, b, a) : -held.low;
  if (reversed <= REVERSE_LIMIT) return starts;
  const ever = held === undefined ? view.across(name, a, b) > 0 : held.high > 0;
  const volts = roundedText(reversed, 'V');
  if (!ever) {
    return [
      ...starts,
      `${name} is the wrong way round: its plus end can only be lower than its minus end, by up to ${volts}. ${HARM}`,
    ];
  }
  if (held === undefined) return starts;
  return [...starts, `${name} is the wrong way round at times, by up to ${volts}. ${HARM}`];
}

function ratingDangers(view: CircuitView, { name, values }: Part): string[] {
  const rating = values.rating as number | undefined;
  const greatest = view.held.greatestVoltage();
  if (rating === undefined || rating >= greatest) return [];
  return [`${name}: the rating of ${exactText(rating, 'V')} is below the ${summedText(greatest, 'V')} of the supply.`];
}
