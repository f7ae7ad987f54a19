import type { RunEvent } from '@two-thirds/sim';
import type { Envelope } from '@two-thirds/sim/trace';

/** What is to be drawn of a live run: signals as a trace names them, in columns of this length (s). */
export interface TraceWish {
  readonly show: readonly string[];
  readonly column: number;
}

/** The signals of one slice in columns; column i of a lane begins at `(first + i) * column` of what was asked for. */
export interface TraceSlice {
  readonly first: number;
  readonly lanes: readonly Envelope[];
}

/** One frame's slice of a live run, as the page asks for it. */
export interface LiveSlice {
  /** Time that is to pass in the circuit (s); 0 settles what is due now. */
  readonly span: number;
  /** Time the worker may take (ms). What it cannot compute within is left out, never made up for. */
  readonly budget: number;
  /** Whether the state of the whole board is wanted. */
  readonly whole: boolean;
  /** What is to be drawn of it, if anything. */
  readonly trace?: TraceWish | undefined;
}

/** What the parts of a board that give light or sound did in a slice. */
export interface PartSlice {
  readonly part: string;
  /** Mean of the current where it flows from the first terminal to the second (A), exact; at the end if no time passed. */
  readonly current: number;
  /** How often it began to conduct; times of the first and the last beginning (s). */
  readonly rises: number;
  readonly firstRise: number;
  readonly lastRise: number;
}

/** What the output of a timer did in a slice. */
export interface OutputSlice {
  readonly timer: string;
  /** Whether it was high when the slice began. */
  readonly high: boolean;
  /** When it changed (s), ascending; the first {@link MOST_CHANGES} of them. */
  readonly changes: readonly number[];
  /** Whether it changed more often than that. */
  readonly cut: boolean;
}

/** Changes of an output that a slice lists: twice what an ear could take in a long frame. */
export const MOST_CHANGES = 4000;

/** The state of the board now; names as the board itself writes them. */
export interface LiveState {
  /** Volts by net, inner nets of timers included. */
  readonly nets: Readonly<Record<string, number>>;
  /** Amperes by part. */
  readonly currents: Readonly<Record<string, number>>;
  readonly timers: readonly LiveTimer[];
  /** Relays and solenoids that are pulled in, and buzzers that sound. */
  readonly active: readonly string[];
  /** What parts have done beyond their limits so far, each in a sentence. */
  readonly faults: readonly string[];
  /** The limit that the run has grazed most so far, in a sentence, where its time is worse than promised. */
  readonly grazes: readonly string[];
}

/** A timer now. Voltages in volts. */
export interface LiveTimer {
  readonly timer: string;
  readonly outputHigh: boolean;
  /** When the present interval began (s); undefined while none runs. */
  readonly since: number | undefined;
  readonly threshold: { readonly value: number; readonly limit: number };
  readonly trigger: { readonly value: number; readonly limit: number };
}

/** What is wrong with a board that cannot run, or a run that cannot go on, for people. */
export interface LiveFailure {
  readonly message: string;
}

/**
 * An event of a live run. `running` tells whether an interval of its timer ran just before it; `bounces` that a contact
 * moves by itself after a hand has worked it.
 */
export interface LiveEvent extends RunEvent {
  readonly running: boolean;
  readonly bounces?: true;
}

/** What came of a slice. */
export interface LiveReport {
  /** Where the run stands (s). */
  readonly time: number;
  /** Time that passed (s): less than was asked for where the budget ran out. */
  readonly done: number;
  /** The last things that happened and can be told of, in order; at most {@link MOST_TOLD}. */
  readonly events: readonly LiveEvent[];
  /** How many there were in all. */
  readonly happened: number;
  readonly parts: readonly PartSlice[];
  readonly outputs: readonly OutputSlice[];
  /** The tones of buzzers, as outputs that go up and down. */
  readonly buzzers?: readonly OutputSlice[];
  readonly state?: LiveState;
  /** What was asked to be drawn. */
  readonly trace?: TraceSlice;
  /** For a search of the next event: up to when (s) there is none. */
  readonly quietUntil?: number;
  /** Why the run cannot go on. */
  readonly failure?: LiveFailure;
}

/** Events that a report names. */
export const MOST_TOLD = 12;

/** A part that can be worked by hand. */
export interface PressPart {
  readonly part: string;
  /** What it is called where its name says nothing to a reader. */
  readonly label?: string;
  /** Held parts spring back when let go; the others stay. */
  readonly kind: 'button' | 'finger' | 'switch' | 'jumper';
  /** Whether it conducts while nobody touches it. */
  readonly closed: boolean;
  /** Whether the document plans presses for it, which a run by hand leaves out. */
  readonly planned: boolean;
}

/** What is run by hand: boards as a file writes them, and the name of the one in hand. */
export interface LiveSubject {
  readonly text: string;
  readonly board: string;
}

/** What begins a run by hand. */
export type LiveBeginning =
  | {
      readonly ok: true;
      readonly presses: readonly PressPart[];
      readonly report: LiveReport;
      /** Voltage above which a net counts as high (V). */
      readonly level: number;
    }
  | { readonly ok: false; readonly failure: LiveFailure };

/** What came of changed values. `restarted` where the run had to begin anew, because the board has other parts now. */
export type LiveChange =
  | { readonly ok: true; readonly restarted: boolean; readonly presses: readonly PressPart[] }
  | { readonly ok: false; readonly failure: LiveFailure };

/** The worker of a run by hand, as seen from the page. Calls are answered one after the other. */
export interface LiveWorker {
  /** Begins the run of a board at time 0. */
  begin(text: string, board: string): Promise<LiveBeginning>;
  /** Goes on with changed values; a board that cannot run leaves the run as it was. */
  change(text: string, board: string): Promise<LiveChange>;
  /** Lets time pass. */
  advance(slice: LiveSlice): Promise<LiveReport>;
  /** Goes to the next event, or stays where there is none. */
  next(budget: number, trace?: TraceWish): Promise<LiveReport>;
  /** Works a part: to its other position, or back. */
  work(part: string, pressed: boolean): Promise<void>;
}
