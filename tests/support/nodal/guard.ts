/** What a condition must be over by (V) to hold at an instant; what has just met its limit stands on it to rounding. */
export const CLEARLY = 1e-10;
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
