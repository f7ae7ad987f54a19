/**
 * Everything that tells one timer from another, in SI units. How the parameters act is said where the timer's behaviour
 * is written.
 */
export interface TimerParameters {
  /** Each of the three equal resistors of the divider (Ω). */
  readonly dividerResistance: number;
  /** Bias current into THRESHOLD (A). */
  readonly thresholdCurrent: number;
  /** Bias current out of TRIGGER (A). */
  readonly triggerCurrent: number;
  /** Current out of RESET while it is low (A). */
  readonly resetCurrent: number;
  /** RESET acts below this voltage above the ground pin (V). */
  readonly resetLevel: number;
  /** The high output lies below the supply by this much without load (V). */
  readonly outputHighDrop: number;
  /** Resistance behind the high output (Ω). */
  readonly outputHighResistance: number;
  /** The low output lies above the ground pin by this much without load (V). */
  readonly outputLowSaturation: number;
  /** Resistance behind the low output (Ω). */
  readonly outputLowResistance: number;
  /** True where the high output only gives current and the low output only takes it. */
  readonly outputOneWay: boolean;
  /** Voltage left across the closed discharge switch without current (V). */
  readonly dischargeSaturation: number;
  /** Resistance of the closed discharge switch (Ω). */
  readonly dischargeResistance: number;
  /** Largest current the discharge switch takes (A). */
  readonly dischargeCurrent: number;
  /** Current into the open discharge switch (A). */
  readonly dischargeLeakage: number;
  /** The junctions that lead from ground into an input, and from an input to the supply, conduct from here on (V). */
  readonly clampDrop: number;
  /** The same for the junction from TRIGGER to the supply (V). */
  readonly triggerClampDrop: number;
  /** Resistance behind each of these junctions (Ω). */
  readonly clampResistance: number;
  /** From a comparator to output and discharge switch (s). */
  readonly delay: number;
  /** A shorter low at TRIGGER does nothing (s). */
  readonly minimumTrigger: number;
  /** Current the timer itself takes while the output is high (A). */
  readonly supplyCurrentHigh: number;
  /** Current the timer itself takes while the output is low (A). */
  readonly supplyCurrentLow: number;
  /**
   * Charge that goes from supply to ground at a change of the output, beside all else (C). Changes that come closer than
   * `transitionTime` share the current: so many draw less than as many charges (decision 9).
   */
  readonly transitionCharge: number;
  /** How long that charge takes, as a constant current (s). */
  readonly transitionTime: number;
  /** Least supply voltage it is made for (V). */
  readonly supplyMinimum: number;
  /** Greatest supply voltage it is made for (V). */
  readonly supplyMaximum: number;
  /** Largest current the high output is made to give (A). */
  readonly outputMaximum: number;
  /** Largest current the low output is made to take (A). */
  readonly outputSinkMaximum: number;
}

/** Families of timers with a table of their own. */
export type TimerFamily = 'ideal' | 'bipolar' | 'cmos';

/** One parameter of one family: the value used, what is published around it, and where that stands. */
interface FamilyValue<Value = number | boolean> {
  readonly nominal: Value;
  /** Least and greatest value published, in the same unit, where there is one. */
  readonly least?: number;
  readonly greatest?: number;
  /** Maker's document and page, "derived" with the derivation, "from memory", or "by definition". */
  readonly source: string;
}

/** All parameters of one family. */
export type FamilyTable = {
  readonly [Name in keyof TimerParameters]: FamilyValue<TimerParameters[Name]>;
};
