/** What a condition must be over by (V) to hold at an instant; what has just met its limit stands on it to rounding. */
export const CLEARLY = 1e-10;
/**
 * The same for a branch that has just left a section and would go back at once: beside a large resistance its current says
 * that it has gone where its voltage, a million times less exactly, does not yet.
 */
export const CLEARLY_BACK = 1e-7;
/** Something that happens when a row over node voltages becomes positive, or at a time. */
export interface Guard {
  readonly plus: number;
  readonly minus: number;
  readonly offset: number;
  /** A second voltage that counts as well, so many times. */
  readonly also?: { readonly plus: number; readonly minus: number; readonly times: number };
  /** Lower ones first at one instant; 0 has no say on the order of events that people see. */
  readonly rank: number;
  /** For a branch that would leave a section: the way it would go, and the way back, as text. */
  readonly way?: string;
  readonly back?: string;
  fire(time: number): void;
}
