/** How a branch relates its voltage v (first node minus second, V) to its current i (from first to second, A). */
export type Law =
  /** i = 0. */
  | { readonly kind: 'open' }
  /** v = input + offset + resistance i; `input` is the index of a time-dependent source, or -1 for none. */
  | { readonly kind: 'thevenin'; readonly input: number; readonly offset: number; readonly resistance: number }
  /** i = current. */
  | { readonly kind: 'current'; readonly current: number }
  /** i = gain times the current of another branch, which is open or has a resistance. */
  | ControlledLaw;

/** The law of a branch that does what another one says. */
export interface ControlledLaw {
  readonly kind: 'controlled';
  readonly by: number;
  readonly gain: number;
}

/** A law that asks nothing of other branches. */
export type OwnLaw = Exclude<Law, ControlledLaw>;

/** A two-terminal element without memory. What law it follows is decided mode by mode. */
export interface Branch {
  /** Part it belongs to, for messages. */
  readonly part: string;
  readonly a: number;
  readonly b: number;
}

/** A capacitor between two nodes (F). */
export interface Capacitor {
  readonly part: string;
  readonly a: number;
  readonly b: number;
  readonly capacitance: number;
}

/** Everything about a network that does not change from mode to mode. Node 0 is ground. */
export interface Network {
  readonly nodeCount: number;
  readonly branches: readonly Branch[];
  readonly capacitors: readonly Capacitor[];
  /** Nodes that a stray capacitor to ground holds in every mode, see `alwaysHeld`. */
  readonly held: readonly number[];
  /** Number of time-dependent sources. */
  readonly inputCount: number;
}

/**
 * Capacitance that holds the last voltage of a net where nothing else does (F). A pin with its socket and wire has 10 to
 * 25 pF; common practice, no source.
 */
export const STRAY_CAPACITANCE = 10e-12;
