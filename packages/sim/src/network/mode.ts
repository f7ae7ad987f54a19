import type { Readouts } from './readouts.ts';

/**
 * A linear readout: y = state . z + input . u + inputSlope . u', where z is the modal state, u = [inputs; 1] and u' its
 * time derivative. `scale` bounds |y| per volt of state and input, for judging what is rounding.
 */
export interface Readout {
  readonly state: Float64Array;
  readonly input: Float64Array;
  readonly inputSlope: Float64Array;
  readonly scale: number;
}

/**
 * Why the course of a mode in time cannot be told, and the parts with a gain that are to blame.
 *
 * - `rings`  what they feed back makes voltages swing: pairs of rates are complex
 * - `forks`  they drive each other on without a capacitor in the way, so that currents are not unique at an instant
 * - `alike`  two rates are so nearly the same that no sum of exponentials has digits left
 */
export interface Untold {
  readonly reason: 'rings' | 'forks' | 'alike';
  readonly parts: readonly string[];
}

/**
 * The exact equations of one mode. With the modal state z (square root of joule),
 *
 *     z_k' = -rates[k] z_k + drive_k . u + driveSlope_k . u'
 *
 * Rates ascend; a zero rate is found from the structure, never from a small number, and one below zero belongs to a part
 * that grows, which only a gain can bring about.
 */
export interface Mode {
  readonly stateCount: number;
  readonly rates: Float64Array;
  /** Rows of `inputCount + 1`: where each decaying part tends to; zero in rows of zero rate. */
  readonly equilibrium: Float64Array;
  /** Rows of `inputCount + 1`: drift of the parts of zero rate; zero in the others. */
  readonly drift: Float64Array;
  readonly driveSlope: Float64Array;
  /** z from all capacitor voltages (the network's, then the held nets'): rows of `capacitorCount`. */
  readonly project: Float64Array;
  readonly projectInput: Float64Array;
  readonly capacitorCount: number;
  /** Nodes whose last voltage a stray capacitor holds. */
  readonly held: readonly number[];
  readonly nodes: Readouts<Readout>;
  readonly branchCurrents: Readouts<Readout>;
  readonly capacitorCurrents: Readouts<Readout>;
  readonly capacitorVoltages: Readouts<Readout>;
  /** Set where its readouts hold at an instant alone: no time may pass in it. */
  readonly untold?: Untold;
}
