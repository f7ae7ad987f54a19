import { dangers } from '../circuit/dangers.ts';
import type { Circuit, Part } from '../circuit/description.ts';
import { isOnlyDark } from '../circuit/led-dangers.ts';
import { RESISTOR_RATING } from '../circuit/part-limits.ts';
import { formatQuantity, preferredBetween } from '../quantity/index.ts';
import type { StopSignal } from './evaluate.ts';

/** Resistances that are tried in place of one that is too small go up to this (Ω). */
const LARGEST = 1e6;
/** Resistances that are tried in series with an LED begin here (Ω). */
const SMALLEST = 1;
/** Ratings of capacitors that can be bought (V); common practice, no source. */
const VOLTAGE_RATINGS = [6.3, 10, 16, 25, 35, 50, 63, 100];
/** Ratings of resistors that can be bought (W); common practice, no source. */
const POWER_RATINGS = [0.5, 1, 2, 5];
/** Supplies of boards (V), largest first; common practice, no source. */
const SUPPLIES = [15, 12, 9, 6, 5, 4.5, 3];

/**
 * What is wrong with a circuit as joined, whatever a run does: {@link dangers}, but for lamps that only stay dark. Of a
 * timer with too little supply it tells as well, which damages nothing.
 */
export function harmsOf(circuit: Circuit): string[] {
  return dangers(circuit).filter((danger) => !isOnlyDark(danger));
}

/** One part that would keep a circuit from harm. */
export interface Remedy {
  /** A full sentence. */
  readonly sentence: string;
  /** Whether the same part would do so in another circuit of the same kit. */
  helps(other: Circuit): boolean;
}

/**
 * The one part that would keep a circuit from harm; undefined where no single part would. Tried in this
 * order: a higher rating, a part turned round, a larger resistor (the smallest of E24 that does), a resistor in series
 * with an LED, a diode across a winding, a lower supply, a higher one.
 *
 * @param prefix only parts whose names begin with it are changed, and they are named without it.
 * @param signal ends the search, with undefined.
 */
export function remedyOf(circuit: Circuit, prefix: string, signal?: StopSignal): Remedy | undefined {
  const own = circuit.parts.filter(({ name }) => name.startsWith(prefix));
  const ofKind = (kind: string): Part[] => own.filter((part) => part.kind === kind);
  const named = ({ name }: Part): string => name.slice(prefix.length);
  const helps = (part: Part, by: readonly Part[]): boolean =>
    signal?.aborted !== true && harmsOf(replaced(circuit, part, by)).length === 0;
  const valued = (part: Part, field: string, value: number): Part[] => [
    { ...part, values: { ...part.values, [field]: value } },
  ];
  const withValue = (part: Part, field: string, value: number): boolean => helps(part, valued(part, field, value));
  const remedy = (part: Part, by: readonly Part[], sentence: string): Remedy => ({
    sentence: `${sentence} would prevent it.`,
    helps: (other) => harmsOf(replaced(other, part, by)).length === 0,
  });

  for (const part of ofKind('capacitor')) {
    const rating = part.values.rating as number | undefined;
    if (rating === undefined) continue;
    const higher = VOLTAGE_RATINGS.filter((volts) => volts > rating);
    const enough = smallest(higher, (volts) => withValue(part, 'rating', volts));
    if (enough !== undefined) {
      const volts = formatQuantity(enough, 'V', { exact: true });
      return remedy(part, valued(part, 'rating', enough), `${named(part)} with a rating of ${volts} or more`);
    }
  }
  const harms = harmsOf(circuit);
  for (const part of [...ofKind('capacitor'), ...ofKind('led')]) {
    if (!harms.some((harm) => harm.startsWith(`${part.name} is the wrong way round`))) continue;
    const { a = '', b = '' } = part.nets;
    const turned = [{ ...part, nets: { a: b, b: a } }];
    if (helps(part, turned)) return remedy(part, turned, `${named(part)} turned round`);
  }
  for (const part of ofKind('resistor')) {
    const rating = part.values.rating as number | undefined;
    const higher = POWER_RATINGS.filter((watts) => watts > (rating ?? RESISTOR_RATING));
    const enough = smallest(higher, (watts) => withValue(part, 'rating', watts));
    if (enough !== undefined) {
      const watts = formatQuantity(enough, 'W', { exact: true });
      return remedy(part, valued(part, 'rating', enough), `${named(part)} with a rating of ${watts} or more`);
    }
  }
  const larger = ofKind('resistor').flatMap((part) => {
    const now = part.values.resistance as number;
    const values = now >= LARGEST ? [] : preferredBetween(Math.max(now, SMALLEST), LARGEST, 'E24');
    const enough = smallest(values, (ohms) => withValue(part, 'resistance', ohms));
    return enough === undefined ? [] : [{ part, enough }];
  });
  const [least] = larger.sort((p, q) => p.enough - q.enough);
  if (least !== undefined) {
    const { part, enough } = least;
    const ohms = formatQuantity(enough, 'Ω', { exact: true });
    return remedy(part, valued(part, 'resistance', enough), `${named(part)} of ${ohms} or more`);
  }
  for (const part of ofKind('led')) {
    const enough = smallest(preferredBetween(SMALLEST, LARGEST, 'E24'), (ohms) => helps(part, inSeries(part, ohms)));
    if (enough !== undefined) {
      const ohms = formatQuantity(enough, 'Ω', { exact: true });
      return remedy(part, inSeries(part, enough), `A resistor of ${ohms} or more in series with ${named(part)}`);
    }
  }
  for (const part of [...ofKind('relay'), ...ofKind('solenoid')]) {
    const { a = '', b = '' } = part.nets;
    const across = [
      [a, b],
      [b, a],
    ].map(([from = '', to = '']): Part[] => [part, freewheel(part, to, from)]);
    const by = across.find((parts) => helps(part, parts));
    if (by !== undefined) return remedy(part, by, `A diode across ${named(part)}, cathode at ${by[1]!.nets.b}`);
  }
  for (const part of ofKind('supply')) {
    const now = part.values.voltage as number;
    const below = SUPPLIES.find((volts) => volts < now && withValue(part, 'voltage', volts));
    const above = SUPPLIES.findLast((volts) => volts > now && withValue(part, 'voltage', volts));
    const enough = below ?? above;
    if (enough !== undefined) {
      const volts = formatQuantity(enough, 'V', { exact: true });
      const sentence = below === undefined ? `${named(part)} of ${volts}` : `${named(part)} of at most ${volts}`;
      return remedy(part, valued(part, 'voltage', enough), sentence);
    }
  }
  return undefined;
}

/** A part and, between its first net and what that was joined to, a resistor. */
function inSeries(part: Part, resistance: number): Part[] {
  // No net or part of a file can have a space in its name.
  const joint = `${part.name} joint`;
  const net = part.nets.a ?? '';
  return [
    { ...part, nets: { ...part.nets, a: joint } },
    { name: `${part.name} series`, kind: 'resistor', nets: { a: net, b: joint }, values: { resistance } },
  ];
}

/** A diode that takes over the current of a winding. */
function freewheel({ name }: Part, a: string, b: string): Part {
  // No part of a file can have a space in its name.
  return { name: `${name} diode`, kind: 'diode', nets: { a, b }, values: { forward: 0.6, slope: 10 } };
}

/** A circuit with other parts in place of one. */
export function replaced(circuit: Circuit, part: Part, by: readonly Part[]): Circuit {
  const parts = circuit.parts.flatMap((each) => (each.name === part.name ? by : [each]));
  const nets = [...new Set([...circuit.nets, ...by.flatMap((each) => Object.values(each.nets))])];
  return { parts, nets };
}

/** The first of ascending values from which on something holds; the last is tried first, since mostly it does not help. */
function smallest(values: readonly number[], holds: (value: number) => boolean): number | undefined {
  const last = values.at(-1);
  if (last === undefined || !holds(last)) return undefined;
  let [low, high] = [0, values.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(values[middle] ?? NaN)) high = middle;
    else low = middle + 1;
  }
  return values[low];
}
