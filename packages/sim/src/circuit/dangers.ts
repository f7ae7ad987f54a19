import { formatQuantity } from '../quantity/index.ts';
import { capacitorDangers } from './capacitor-dangers.ts';
import { CircuitView, exactText, summedText } from './circuit-view.ts';
import { type ConductingLink, contactLinks } from './conducting-links.ts';
import type { Circuit, Part } from './description.ts';
import { ledDangers } from './led-dangers.ts';
import type { DrivenPath } from './limiting-path.ts';
import { RESISTOR_RATING } from './part-limits.ts';
import { timerLoadDangers } from './timer-load-dangers.ts';
import { reversedSupplies, timerSupplyDangers } from './timer-supply-dangers.ts';
import { touchDangers } from './touch-cautions.ts';
import { windingDangers } from './winding-dangers.ts';

/** Highest direct voltage that may be touched without protection (V): IEC 60335-1, 3.4.2, at second hand. */
const TOUCHABLE = 60;

/** From here on what a contact lets through is a short circuit (A); a judgement, no source. */
const SHORT = 1;
/** Rounding of a computed power, as a share of it. */
const ROUNDING = 1e-9;

/**
 * What is wrong or harmful in a circuit as it stands, before any run, each in whole sentences, a reversed supply first.
 * Every contact counts as closed and every pot as turned to its end, since somebody may do so. What depends on levels
 * that only a run can tell is not among them: see the faults of runs.
 *
 * @param about names of the parts it is about; all of them if not given. The others count as what these are joined to.
 */
export function dangers(circuit: Circuit, about?: ReadonlySet<string>): string[] {
  const view = new CircuitView(circuit, about);
  return [
    ...reversedSupplies(view),
    ...voltageDangers(view),
    ...shortDangers(view),
    ...touchDangers(view),
    ...timerSupplyDangers(view),
    ...capacitorDangers(view),
    ...ledDangers(view),
    ...timerLoadDangers(view),
    ...windingDangers(view),
    ...resistorDangers(view),
  ];
}

function voltageDangers(view: CircuitView): string[] {
  const greatest = view.held.greatestVoltage();
  if (greatest <= TOUCHABLE) return [];
  return [
    `Up to ${summedText(greatest, 'V')} is more than the ${TOUCHABLE} V that may be touched: hand-held boards stay at extra-low voltage.`,
  ];
}

/** Contacts, those of relays too, that join both ends of a source when they close, alone or with others. */
function shortDangers(view: CircuitView): string[] {
  const byHand = ['button', 'jumper', 'switch'].flatMap((kind) => view.ofKind(kind)).map((part) => bothWays(part));
  const byRelay = view.ofKind('relay').map(contactLinks);
  const isShort = (link: ConductingLink): boolean => {
    const path = view.paths.through(link, 0);
    return (
      path !== undefined &&
      path.current > SHORT &&
      [...path.before, ...path.after].every(({ through }) => through === 'contact' || through === 'source')
    );
  };
  const shorts = [...byHand, ...byRelay].flatMap((links) => links.find(isShort) ?? []);
  return shorts.map(({ part }) => `${part} joins both ends of a supply or signal when it closes: a short circuit.`);
}

/** Resistors beyond their rating, straight across sources or as the rest of the board lets it be. */
function resistorDangers(view: CircuitView): string[] {
  return view.ofKind('resistor').flatMap((part) => {
    const { resistance, rating } = part.values as { resistance: number; rating?: number };
    const bears = rating ?? RESISTOR_RATING;
    // Even with all there is across it, most resistors bear it.
    if (resistance === 0 || view.held.totalVoltage() ** 2 / resistance <= bears) return [];
    const current = largestCurrent(view, part, Math.sqrt(bears / resistance))?.current ?? 0;
    const most = current ** 2 * resistance;
    if (most <= bears * (1 + ROUNDING)) return [];
    return [`${part.name} may turn about ${formatQuantity(most, 'W')} into heat (${ratingText(rating)}).`];
  });
}

/** The way that drives the most current through a two-ended part, in either direction. */
function largestCurrent({ paths }: CircuitView, part: Part, limit: number): DrivenPath | undefined {
  const ways = bothWays(part).map((link) => paths.through(link, limit));
  return ways.reduce((most, way) => ((way?.current ?? 0) > (most?.current ?? 0) ? way : most), undefined);
}

function bothWays({ name, nets, values }: Part): ConductingLink[] {
  const { a = '', b = '' } = nets;
  const { resistance } = values as { resistance: number };
  const link = { part: name, resistance, drop: 0, most: Infinity, through: 'other' } as const;
  return [
    { ...link, from: a, to: b },
    { ...link, from: b, to: a },
  ];
}

/** A resistor's rating in words, or what is used in its place. */
export function ratingText(rating: number | undefined): string {
  return rating === undefined ? `rating not stated, ${RESISTOR_RATING} W used` : `rated ${exactText(rating, 'W')}`;
}
