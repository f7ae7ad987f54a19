import type { Issue } from '../core/errors.ts';
import type { EdgeRow, FateCounts, FaultRow, IntervalRow, PulseRow } from '../measure/rows.ts';
import type { Unit } from '../quantity/index.ts';
import type { CaptureResult } from './capture-results.ts';
import type { ClaimResult } from './claim-result.ts';
import type { ChooseResult } from './choose-results.ts';
import type { SpreadResult } from './spread-results.ts';
import type { MapResult, SweepResult } from './study-results.ts';
import type { SwapsResult } from './swaps-result.ts';
import type { SymptomsResult } from './symptoms-result.ts';
import type { Envelope } from '../trace/column-envelope.ts';
import type { ContactEdge } from '../trace/contact-observer.ts';

export type { EdgeRow, Fate, FateCounts, FaultRow, IntervalRow, PulseRow } from '../measure/rows.ts';
export type * from './capture-results.ts';
export type * from './claim-result.ts';
export type * from './choose-results.ts';
export type * from './spread-results.ts';
export type * from './study-results.ts';
export type * from './swaps-result.ts';
export type * from './symptoms-result.ts';

/** What computing one cell gave: plain data, safe to send between threads and to write as JSON. */
export type CellResult =
  | NoteResult
  | BoardResult
  | TraceResult
  | FatesResult
  | ReadingResult
  | FormulaResult
  | AskResult
  | StudyResult
  | FaultyResult;

/** What a cell gives that computes many runs. */
export type StudyResult =
  | CaptureResult
  | SymptomsResult
  | SwapsResult
  | SweepResult
  | MapResult
  | SpreadResult
  | ChooseResult
  | ClaimResult;

/** All cells of a document by id, in page order. */
export interface DocumentResults {
  readonly results: Readonly<Record<string, CellResult>>;
}

/** A cell that could not be computed. The other cells go on. `where` is a path such as `page[4].take.width`. */
export interface FaultyResult {
  readonly kind: string;
  readonly ok: false;
  readonly error: { readonly message: string; readonly where: string };
  /** All issues behind the error, where there are several (a board with several faults). */
  readonly issues?: readonly Issue[];
  /** What was computed before the run stopped, where a run stopped early. */
  readonly partial?: CellResult;
}

/** A note with the numbers it quotes. */
export interface NoteResult {
  readonly kind: 'note';
  readonly ok: true;
  /** Live numbers quoted by links `[...](#cell.name)`: the link target without `#`, and the text to show. */
  readonly quotes: Readonly<Record<string, string>>;
}

/** One row of a board's parts list. */
export interface PartRow {
  readonly name: string;
  readonly kind: string;
  readonly title: string;
  readonly nets: Readonly<Record<string, string>>;
  /**
   * Every field: as given in the file or the default, formatted; `given` tells which. `unit` only for plain quantities;
   * `usual` is the default of a number that is given.
   */
  readonly fields: readonly {
    readonly name: string;
    readonly title: string;
    readonly text: string;
    readonly value?: number;
    readonly unit?: Unit;
    readonly given: boolean;
    readonly usual?: string;
    readonly source?: string;
  }[];
}

/** A board: parts, nets, what to look at, and what the textbook says of it. Nothing is run. */
export interface BoardResult {
  readonly kind: 'board';
  readonly ok: true;
  readonly board: string;
  readonly parts: readonly PartRow[];
  /** Nets with the part terminals that meet there, for example `{ net: "timing", joins: ["R1.b", "C1.a"] }`. */
  readonly nets: readonly { readonly net: string; readonly joins: readonly string[] }[];
  /** Warnings of the circuit check. */
  readonly issues: readonly Issue[];
  /** What is wrong or harmful on this board as built, each a full sentence, what matters most first; usually nothing. */
  readonly dangers: readonly string[];
  /** All cautions that apply to this circuit, each a full sentence, the dangers among them. */
  readonly cautions: readonly string[];
  /** Rule-of-thumb predictions of a ready board, with formula and source. */
  readonly textbook: readonly {
    readonly name: string;
    readonly formula: string;
    readonly value: number | null;
    /** Null for plain numbers such as a ratio. */
    readonly unit: Unit | null;
    readonly source: string;
    /** The reading of a run that gives the same number: `width(out)`. */
    readonly reading: string;
  }[];
}

/**
 * A lane of a trace. `columns` are equal stretches of the window; within column i the signal starts at `first[i]`, ends
 * at `last[i]` and stays exactly between `low[i]` and `high[i]` (jumps included).
 */
export type Lane = SignalLane | ContactLane;

/** A lane of a voltage or a current. */
export interface SignalLane extends LaneCourse {
  readonly unit: Unit;
  /** `logic` where the signal only ever steps between two levels: the trigger input and the output of most boards. */
  readonly role: 'analog' | 'logic';
}

/** A lane that tells whether a contact conducts: 1 where it does and 0 where not. */
export interface ContactLane extends LaneCourse {
  readonly unit: null;
  readonly role: 'contact';
}

interface LaneCourse {
  /** As written in the cell: a net name, `current(R1)` or `contact(K1)`. */
  readonly show: string;
  readonly first: readonly number[];
  readonly last: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** For nets: the level above which the net counts as high (V). For contacts: between open and closed. */
  readonly level?: number;
  /** Comparator limits that belong in this lane (V). */
  readonly limits: readonly {
    readonly timer: string;
    readonly name: 'threshold limit' | 'trigger limit' | 'reset level';
    readonly value: number;
    /** True when the limit moved by more than 0.1 % within the window; `value` is then its mean. */
    readonly moves: boolean;
    /** Where it moves: its course, in the columns of the lane (V). */
    readonly course?: Envelope;
  }[];
}

/** The exact state of a board at an instant, after whatever happens at that instant. */
export interface InstantRow {
  /** Seconds. */
  readonly time: number;
  /** Volts by net, internal nets of timers included. */
  readonly nets: Readonly<Record<string, number>>;
  /** Amperes by part, from its first terminal to its second. */
  readonly currents: Readonly<Record<string, number>>;
  /** The limits of every timer's comparators (V). */
  readonly limits: Readonly<Record<string, { readonly threshold: number; readonly trigger: number }>>;
  /** Relays and solenoids that are pulled in, and buzzers that sound. */
  readonly active: readonly string[];
  /** Buttons, switches, jumpers and fingers that conduct, bounces included. */
  readonly closed: readonly string[];
}

/** A run as pictures: lanes in columns, edges, and marks for every timer. Times in seconds. */
export interface TraceResult {
  readonly kind: 'trace';
  readonly ok: true;
  readonly board: string;
  readonly from: number;
  readonly until: number;
  readonly columns: number;
  readonly lanes: readonly Lane[];
  /** Edges of every net shown, and of every net a timer in the board uses as trigger or output. */
  readonly edges: Readonly<Record<string, readonly EdgeRow[]>>;
  /** When the contacts that are shown closed and opened, by what the cell calls them; absent where none are. */
  readonly contacts?: Readonly<Record<string, readonly ContactEdge[]>>;
  /** True when `edges` or `events` were cut at the limit stated in the document page. */
  readonly cut: boolean;
  /** Per timer: fates for marks, and intervals (latch set) for spans. */
  readonly timers: readonly {
    readonly timer: string;
    readonly trigger: string;
    readonly output: string;
    readonly threshold: string;
    readonly pulses: readonly PulseRow[];
    readonly counts: FateCounts;
    readonly intervals: readonly IntervalRow[];
  }[];
  /** The exact state at the instants that were asked for, ascending; absent where none were. */
  readonly instants?: readonly InstantRow[];
  /** What parts of the board did beyond their limits within the window, in the order in which it began; usually nothing. */
  readonly faults: readonly FaultRow[];
  /** What to be careful of that only a run can tell, each a full sentence: lamps that flash too fast; usually nothing. */
  readonly cautions: readonly string[];
  /** What the start decides, each a full sentence: a race at power-up, both starts of a timer; absent where nothing. */
  readonly powerUp?: readonly string[];
  /** The limit of the run that is grazed most, in a full sentence, where its time is worse than 1e-12 of itself; else absent. */
  readonly grazes?: readonly string[];
}

/** The input pulses of one timer that began in the window (s), and what became of them. */
export interface FatesResult {
  readonly kind: 'fates';
  readonly ok: true;
  readonly board: string;
  readonly timer: string;
  readonly from: number;
  readonly until: number;
  readonly pulses: readonly PulseRow[];
  readonly counts: FateCounts;
  /** True when only the first pulses are listed; `counts` are complete all the same. */
  readonly cut: boolean;
  /** A short paragraph that explains the pattern with the run's own numbers. */
  readonly explanation: string;
  /** What parts of the board did beyond their limits within the window, in the order in which it began; usually nothing. */
  readonly faults: readonly FaultRow[];
  /** What to be careful of that only a run can tell, each a full sentence: lamps that flash too fast; usually nothing. */
  readonly cautions: readonly string[];
  /** What the start decides, each a full sentence: a race at power-up, both starts of a timer; absent where nothing. */
  readonly powerUp?: readonly string[];
  /** The limit of the run that is grazed most, in a full sentence, where its time is worse than 1e-12 of itself; else absent. */
  readonly grazes?: readonly string[];
}

/** Readings of the window (s), values in SI units. */
export interface ReadingResult {
  readonly kind: 'reading';
  readonly ok: true;
  readonly board: string;
  readonly from: number;
  readonly until: number;
  readonly values: Readonly<Record<string, number | readonly number[] | readonly EdgeRow[] | null>>;
  /** Why a value is null. */
  readonly reasons: Readonly<Record<string, string>>;
  /** Unit of each value, `share` for plain numbers between 0 and 1 (duty, light), null for plain counts and ratios. */
  readonly units: Readonly<Record<string, Unit | null>>;
  /** What was asked, as written. */
  readonly asked: Readonly<Record<string, string>>;
  /** What parts of the board did beyond their limits within the window, in the order in which it began; usually nothing. */
  readonly faults: readonly FaultRow[];
  /** What to be careful of that only a run can tell, each a full sentence: lamps that flash too fast; usually nothing. */
  readonly cautions: readonly string[];
  /** What the start decides, each a full sentence: a race at power-up, both starts of a timer; absent where nothing. */
  readonly powerUp?: readonly string[];
  /** The limit of the run that is grazed most, in a full sentence, where its time is worse than 1e-12 of itself; else absent. */
  readonly grazes?: readonly string[];
}

/** A number that a cell gives or uses: SI units, null where there is none. */
export interface NumberOfCell {
  readonly value: number | null;
  /** Null for plain numbers, and where the unit has no name of its own. */
  readonly unit: Unit | null;
  /** The unit as written: `s`, `V/s`; empty for plain numbers. */
  readonly unitText: string;
  /** Why there is no value. */
  readonly reason?: string;
}

/** The value of an expression. */
export interface FormulaResult extends NumberOfCell {
  readonly kind: 'formula';
  readonly ok: true;
  /** The expression as written. */
  readonly text: string;
  /** The names it uses and what they stood for. */
  readonly uses: readonly (NumberOfCell & { readonly name: string })[];
}

/** A question and its computed answer. */
export interface AskResult extends NumberOfCell {
  readonly kind: 'ask';
  readonly ok: true;
  readonly question: string;
  /** The name of the answer, as written. */
  readonly answer: string;
  /** The tolerance as written. */
  readonly within: string;
  /** How far off an answer may be, in the unit of the value; null where there is no value. */
  readonly allowance: number | null;
  /** What the run itself says about the pattern behind the answer, where it says something. */
  readonly explanation?: string;
}
