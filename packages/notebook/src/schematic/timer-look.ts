/** What a drawing shows of a timer at an instant. */
export interface TimerLook {
  readonly isDischarging: boolean;
  readonly outputHigh: boolean;
  /** Inputs, by pin, that are past the limits of their comparators. */
  readonly past: Readonly<Record<string, boolean>>;
}
