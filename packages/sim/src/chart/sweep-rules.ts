import { pixel, type Scale } from './scale.ts';

/** A rule of thumb as a line of a sweep, drawn over the reading it is held against. */
export interface SweepRuleLine {
  /** As written. */
  readonly text: string;
  readonly path: string;
  /** Where its text stands: at its end, or where it ends before. */
  readonly at: { readonly x: number; readonly y: number } | undefined;
}

/** The text of a rule stands this much above its end (pixels), or this much below where its reading is near above. */
const RULE_ABOVE = 6;
const RULE_BELOW = 15;
const RULE_LINE = 14;
const NEAR = 26;

/**
 * A rule through the points where it gives something.
 *
 * @param values what it gives at each of the places, in the unit of the reading.
 * @param reading what the reading it is held against has there: its text stands on the other side of its line.
 */
export function ruleLine(
  text: string,
  places: readonly number[],
  values: readonly (number | null)[],
  reading: readonly (number | null)[],
  x: Scale,
  y: Scale,
): SweepRuleLine {
  let path = '';
  let end: SweepRuleLine['at'];
  let isBroken = true;
  for (const [index, place] of places.entries()) {
    const value = values[index] ?? null;
    if (value === null) {
      isBroken = true;
      continue;
    }
    const here = { x: pixel(x(place)), y: pixel(y(value)) };
    path += `${isBroken ? 'M' : 'L'}${here.x} ${here.y}`;
    isBroken = false;
    const beside = reading[index] ?? null;
    const above = beside === null ? 0 : here.y - y(beside);
    end = { x: here.x, y: here.y + (above > 0 && above < NEAR ? RULE_BELOW : -RULE_ABOVE) };
  }
  return { text, path, at: end };
}

/** Texts of rules that end beside each other stand above each other. */
export function spaced(rules: readonly SweepRuleLine[]): readonly SweepRuleLine[] {
  let lowest = -Infinity;
  const placed = new Map(
    [...rules]
      .sort((a, b) => (a.at?.y ?? 0) - (b.at?.y ?? 0))
      .map((rule) => {
        const at = rule.at && { x: rule.at.x, y: Math.max(rule.at.y, lowest + RULE_LINE) };
        lowest = at?.y ?? lowest;
        return [rule, { ...rule, at }];
      }),
  );
  return rules.map((rule) => placed.get(rule) ?? rule);
}
