import type { PartRow } from '@two-thirds/sim/document';

/** An LED at an instant. */
export interface LampState {
  readonly part: string;
  /** Amperes from anode to cathode. */
  readonly current: number;
  /** Light as a share of that at its limit current, 0 to 1; current and light are taken as proportional. */
  readonly light: number;
}

/** Light below this share of the greatest is not seen in a lit room (common practice, no source). */
const DARK = 1e-3;

/** The LEDs of a board at an instant. `currents` are those of its parts (A). */
export function lampStates(parts: readonly PartRow[], currents: Readonly<Record<string, number>>): LampState[] {
  return parts.flatMap((part) => {
    const current = currents[part.name];
    const limit = part.fields.find((field) => field.name === 'limit')?.value;
    if (part.kind !== 'led' || current === undefined || limit === undefined || !(limit > 0)) return [];
    const share = Math.min(1, Math.max(0, current / limit));
    return [{ part: part.name, current, light: share < DARK ? 0 : share }];
  });
}
