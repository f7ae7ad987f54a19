import { formatQuantity } from '../quantity/index.ts';
import { type CircuitView, exactText, roundedText } from './circuit-view.ts';
import type { ConductingLink } from './conducting-links.ts';
import type { Part } from './description.ts';
import { LED_REVERSE_LIMIT } from './part-limits.ts';
import { loadsOn, totalCurrent } from './side-by-side.ts';

const BEARS_LITTLE = `LEDs bear little that way, typically ${exactText(LED_REVERSE_LIMIT, 'V')} (common practice, no source; the data sheet of the LED counts).`;

const DARK_END = ', so it will not light.';

/** Whether a danger says no more than that an LED stays dark, which harms nothing. */
export function isOnlyDark(danger: string): boolean {
  return danger.endsWith(DARK_END);
}

/** LEDs without a current-limiting path, LEDs the wrong way round, and LEDs that much stands against. */
export function ledDangers(view: CircuitView): string[] {
  return view.ofKind('led').flatMap((part) => [...currentDangers(view, part), ...reverseDangers(view, part)]);
}

function currentDangers(view: CircuitView, part: Part): string[] {
  const limit = part.values.limit as number;
  const link = forwards(part);
  const currents = (['before', 'after'] as const).map((side) =>
    totalCurrent(link, loadsOn(view, link, limit, side), side),
  );
  const current = Math.max(...currents);
  if (current <= limit) return [];
  return [
    `${part.name}: an LED always needs a current-limiting path; as joined here about ${formatQuantity(current, 'A', { digits: 2 })} may flow, above the limit of ${exactText(limit, 'A')} (20 mA unless stated).`,
  ];
}

function reverseDangers(view: CircuitView, part: Part): string[] {
  const { name, nets } = part;
  const against = view.across(name, nets.b ?? '', nets.a ?? '');
  if (against <= 0) return [];
  const isClamped = isBridged(view, part);
  const isMuch = against > LED_REVERSE_LIMIT && !isClamped;
  if (view.paths.through(forwards(part), 0) === undefined) {
    const dark = `${name} is the wrong way round: no supply or signal can drive a current from its anode to its cathode${DARK_END}`;
    return [isMuch ? `${dark} Up to ${roundedText(against, 'V')} may stand against it; ${BEARS_LITTLE}` : dark];
  }
  return isMuch
    ? [`${name}: up to ${roundedText(against, 'V')} may stand against it while it is dark; ${BEARS_LITTLE}`]
    : [];
}

/** Whether a diode or another LED joins cathode to anode, so that hardly any voltage can stand against it. */
function isBridged({ circuit }: CircuitView, { name, nets }: Part): boolean {
  return circuit.parts.some(
    (other) =>
      other.name !== name &&
      (other.kind === 'diode' || other.kind === 'led') &&
      other.nets.a === nets.b &&
      other.nets.b === nets.a,
  );
}

function forwards(part: Part): ConductingLink {
  const { slope, forward } = part.values as { slope: number; forward: number };
  const { a = '', b = '' } = part.nets;
  return { part: part.name, from: a, to: b, resistance: slope, drop: forward, most: Infinity, through: 'other' };
}
