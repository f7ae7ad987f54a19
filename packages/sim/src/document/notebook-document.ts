import type { ClaimRange } from './claim-schema.ts';
import type { Adjusted, WrittenWish } from './choose-schema.ts';
import type { SpreadLaw } from '../study/spread-quantity.ts';
import type { Against } from './against-schema.ts';
import type { Vary } from './vary-schema.ts';

/** What the `format` field of every document holds. */
export const FORMAT = 'two-thirds';

/** The version this program writes; it reads this one and all earlier ones. */
export const VERSION = 1;

/** Longest text of a document that is read, in bytes as UTF-8 (and in UTF-16 code units). */
export const LONGEST_DOCUMENT = 5_000_000;

/** Most pulses, and most edges of one net, that a cell lists. Counts are complete all the same. */
export const LISTED_MOST = 10_000;

/** Events that one run may have when the caller does not say: about a minute of computing. */
export const EVENT_BUDGET = 100_000_000;

/** Events that each run of a study may have when the caller does not say: some seconds of computing. */
export const STUDY_EVENT_BUDGET = 10_000_000;

/** Columns a lane of a trace is drawn with when the caller does not say. */
export const COLUMNS = 720;

/**
 * A notebook document as it stands in a file (`*.tt.json`): boards, links between them, and a page of cells. Plain
 * data. The shell has been checked (see `readShell`); boards and cells stay as they were written, faults
 * included, so that an editor never loses what somebody typed.
 */
export interface NotebookDocument {
  readonly format: typeof FORMAT;
  readonly version: number;
  readonly title?: string;
  readonly boards: Readonly<Record<string, unknown>>;
  readonly links?: readonly unknown[];
  readonly page: readonly unknown[];
}

/** The part of an experiment that a cell belongs to. */
export const SECTIONS = ['ask', 'predict', 'observe', 'explain', 'check'] as const;
/** One of {@link SECTIONS}. */
export type Section = (typeof SECTIONS)[number];

/** Sets of graphic symbols a drawing may use. */
export const SYMBOL_STANDARDS = ['IEC 60617', 'IEEE 315'] as const;
/** One of {@link SYMBOL_STANDARDS}. */
export type SymbolStandard = (typeof SYMBOL_STANDARDS)[number];

/** A cell after `readCell`: every field present, given or default; times in seconds. */
export type Cell = NoteCell | BoardCell | TraceCell | FatesCell | ReadingCell | FormulaCell | AskCell | StudyCell;

interface EveryCell {
  readonly id: string;
  readonly section?: Section;
}

/** Text in Markdown; `[words](#cell.name)` quotes a live number of another cell. */
export interface NoteCell extends EveryCell {
  readonly kind: 'note';
  readonly text: string;
}

/** A circuit with its parts list; `knobs` are what is meant to be turned: values such as `R1`, numbers of cells such as `#look.until`. */
export interface BoardCell extends EveryCell {
  readonly kind: 'board';
  readonly board: string;
  readonly knobs: readonly string[];
  readonly standard: SymbolStandard;
}

/** What every cell has that computes a run: the board, and the window it looks at, in seconds. */
interface RunCellFields extends EveryCell {
  readonly board: string;
  readonly from: number;
  readonly until: number;
}

/** Voltages and currents over time; `show` holds nets and `current(part)`. */
export interface TraceCell extends RunCellFields {
  readonly kind: 'trace';
  readonly show: readonly string[];
  /** Whether the notebook asks for a prediction before it shows the result. */
  readonly hold_back: boolean;
}

/** Every input pulse of a timer and what became of it; `timer` may be left out on a board with one timer. */
export interface FatesCell extends RunCellFields {
  readonly kind: 'fates';
  readonly timer?: string;
}

/** Named readings of a run; `take` maps names to what is read, such as `width(out)`. */
export interface ReadingCell extends RunCellFields {
  readonly kind: 'reading';
  readonly take: Readonly<Record<string, string>>;
  readonly hold_back: boolean;
}

/** An expression over readings, values of boards and other formulas, such as `1.1 * counter.R1 * counter.C1`. */
export interface FormulaCell extends EveryCell {
  readonly kind: 'formula';
  readonly text: string;
}

/** A question whose answer is a number; the notebook shows the answer once somebody has entered one. */
export interface AskCell extends EveryCell {
  readonly kind: 'ask';
  readonly question: string;
  /** A name as formulas use them: `numbers.width`, `rule`. */
  readonly answer: string;
  /** How far off an answer may be: a share of it as text (`"5 %"`), or a quantity in its unit. */
  readonly within: string | number;
}

/** A cell that computes a run. */
export type RunCell = TraceCell | FatesCell | ReadingCell;

/** One value of a board over a range; `take` as in a reading cell. */
export interface SweepCell extends RunCellFields {
  readonly kind: 'sweep';
  readonly vary: Vary;
  readonly take: Readonly<Record<string, string>>;
  /** Rules of thumb to hold its readings against: expressions over values of the board. */
  readonly against?: Against;
  /** The timer whose pattern of fates is watched; may be left out on a board with one timer. */
  readonly timer?: string;
}

/** Two values of a board over ranges, and one reading. */
export interface MapCell extends RunCellFields {
  readonly kind: 'map';
  readonly x: Vary;
  readonly y: Vary;
  /** One entry. */
  readonly take: Readonly<Record<string, string>>;
  /** Values of the reading whose contours are wanted; quantities are read when the reading is known. */
  readonly levels?: readonly unknown[];
  /** The timer whose pulses are explained; may be left out on a board with one timer. */
  readonly timer?: string;
}

/** A rule that people believe, tried over the values of a board. */
export interface ClaimCell extends EveryCell {
  readonly kind: 'claim';
  readonly board: string;
  /** The window of every run: times, or expressions for them such as `20 * R1 * C1`. */
  readonly from: number | string;
  readonly until: number | string;
  /** Two sides with readings and values of the board: `width(out) = 1.1 * R1 * C1 within 1 %`. */
  readonly says: string;
  /** What each value is tried at, by name. */
  readonly over: Readonly<Record<string, ClaimRange>>;
  readonly trials: number;
  readonly seed: number;
}

/** Readings of a board whose values lie anywhere within their tolerances. */
export interface SpreadCell extends RunCellFields {
  readonly kind: 'spread';
  readonly take: Readonly<Record<string, string>>;
  /** Names of parts, or values with their ranges, which are read when the board is known; all with a tolerance if left out. */
  readonly parts?: readonly string[] | Readonly<Record<string, unknown>>;
  /** For readings, pairs of limits of which one may be null. */
  readonly limits: Readonly<Record<string, unknown>>;
  readonly samples: number;
  readonly seed: number;
  readonly law: SpreadLaw;
}

/** Every combination of the parts that a kit lets people plug in. */
export interface SwapsCell extends RunCellFields {
  readonly kind: 'swaps';
  /** What can be plugged in, by the name of a value; read when the board is known. */
  readonly parts: Readonly<Record<string, readonly unknown[]>>;
  readonly take: Readonly<Record<string, string>>;
}

/** Every single fault of a board: what one would see, and which faults fit what was seen. */
export interface SymptomsCell extends RunCellFields {
  readonly kind: 'symptoms';
  readonly take: Readonly<Record<string, string>>;
  /** What was read at a bench, by names of `take`; read when the board is known. */
  readonly seen: Readonly<Record<string, unknown>>;
}

/** Wanted readings to part values that can be bought. */
export interface ChooseCell extends RunCellFields {
  readonly kind: 'choose';
  readonly want: Readonly<Record<string, WrittenWish>>;
  /** What each value may be, by its name. */
  readonly adjust: Readonly<Record<string, Adjusted>>;
  /** Resistances and capacitances that are at hand. */
  readonly stock: readonly unknown[];
}

/** A measurement held against the prediction; `data` is the name of a file or, with line breaks, the rows themselves. */
export interface CaptureCell extends RunCellFields {
  readonly kind: 'capture';
  readonly data: string;
  /** `time` and nets: title or position of their column, or both with its unit. */
  readonly columns: Readonly<
    Record<string, string | number | { readonly column: string | number; readonly unit?: string }>
  >;
  /** `first(net)` or `first(net, fall)`, or `none`; the first edge of any net if not given. */
  readonly align?: string;
  /** Values to be estimated. */
  readonly adjust: readonly string[];
}

/** A cell that computes many runs. */
export type StudyCell =
  | CaptureCell
  | SymptomsCell
  | SwapsCell
  | SweepCell
  | MapCell
  | SpreadCell
  | ChooseCell
  | ClaimCell;
