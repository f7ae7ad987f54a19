import { formatQuantity } from '../quantity/index.ts';
import { capacitorDangers } from './capacitor-dangers.ts';
import { CircuitView, exactText } from './circuit-view.ts';
import type { Circuit } from './description.ts';
import { ledDangers } from './led-dangers.ts';
import { RESISTOR_RATING } from './part-limits.ts';
import { timerLoadDangers } from './timer-load-dangers.ts';
import { reversedSupplies, timerSupplyDangers } from './timer-supply-dangers.ts';
import { touchDangers } from './touch-cautions.ts';

/** Highest direct voltage that may be touched without protection (V): IEC 60335-1, 3.4.2, at second hand. */
const TOUCHABLE = 60;

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
    ...touchDangers(view),
    ...timerSupplyDangers(view),
    ...capacitorDangers(view),
    ...ledDangers(view),
    ...timerLoadDangers(view),
    ...resistorDangers(view),
  ];
}

function voltageDangers(view: CircuitView): string[] {
  const greatest = view.held.greatestVoltage();
  if (greatest <= TOUCHABLE) return [];
  return [
    `Up to ${exactText(greatest, 'V')} is more than the ${TOUCHABLE} V that may be touched: hand-held boards stay at extra-low voltage.`,
  ];
}

/** Resistors straight across sources; what others take depends on what flows. */
function resistorDangers(view: CircuitView): string[] {
  return view.ofKind('resistor').flatMap(({ name, nets, values }) => {
    const { resistance, rating } = values as { resistance: number; rating?: number };
    const held = view.held.between(nets.a ?? '', nets.b ?? '');
    if (held === undefined || resistance === 0) return [];
    const most = (Math.max(held.high, -held.low) / (resistance + held.resistance)) ** 2 * resistance;
    if (most <= (rating ?? RESISTOR_RATING)) return [];
    return [`${name} turns up to ${formatQuantity(most, 'W')} into heat (${ratingText(rating)}).`];
  });
}

/** A resistor's rating in words, or what is used in its place. */
export function ratingText(rating: number | undefined): string {
  return rating === undefined ? `rating not stated, ${RESISTOR_RATING} W used` : `rated ${exactText(rating, 'W')}`;
}
