import type { FieldFault, FieldReader } from '../field/field-reader.ts';
import type { Unit } from '../quantity/index.ts';

/**
 * A circuit as it stands in a file: a list of parts, each joining named nets. Plain data; quantities may be numbers in
 * SI units or text such as `"68 kΩ"`. The net `ground` is the reference.
 */
export interface CircuitData {
  readonly parts: readonly PartData[];
}

/** One part as it stands in a file. What further fields it has depends on its kind (see `PartKind`). */
export interface PartData {
  readonly name: string;
  readonly kind: string;
  readonly [field: string]: unknown;
}

/**
 * A part after `checkCircuit`: every field present (given or default), every quantity a number in SI units.
 * `nets` maps the kind's terminal names (for example `a`, `b`, or a timer's pins) to net names; a terminal that may be
 * left out and was left out is absent.
 */
export interface Part {
  readonly name: string;
  readonly kind: string;
  readonly nets: Readonly<Record<string, string>>;
  readonly values: Readonly<Record<string, unknown>>;
}

/** A checked circuit: parts in file order, and all nets in order of first mention (`ground` is always among them). */
export interface Circuit {
  readonly parts: readonly Part[];
  readonly nets: readonly string[];
}

/** One field that a part kind has beside its name, kind and nets. */
export interface Field {
  /** Name in the file. */
  readonly name: string;
  /** What the field is, in a few words, for lists and messages. */
  readonly title: string;
  /** Unit of a plain quantity; absent for structured fields, choices and flags. */
  readonly unit?: Unit;
  /** The value used when the field is left out; `undefined` here and `required` true means it must be given. */
  readonly default?: unknown;
  /** In place of `default`, where it follows from the fields before this one (an LED's forward voltage from its colour). */
  readonly defaultFrom?: (values: Readonly<Record<string, unknown>>) => {
    readonly value: unknown;
    readonly source: string;
  };
  readonly required?: boolean;
  /** Where the default comes from, for people. */
  readonly source?: string;
  readonly read: FieldReader;
}

/** One terminal of a part kind. */
export interface Terminal {
  readonly name: string;
  readonly required: boolean;
  /** Net used when the terminal is left out; without it the terminal stays open. */
  readonly default?: string;
  /** Other terminals of which one must be given where this one is: half a contact leads nowhere. */
  readonly together?: readonly string[];
  /** True where nobody wonders if nothing else is on its net: an output that is only looked at. */
  readonly mayStandAlone?: boolean;
}

/** Pairs of terminal names. `REFERENCE` in place of a name stands for the net `ground` itself. */
export type TerminalPairs = readonly (readonly [string, string])[];

/** In a terminal pair: the net `ground`, whatever the part is joined to (the earth that a finger brings along). */
export const REFERENCE = '(ground)';

/**
 * What a kind of part is, as data for `checkCircuit`, for editors and for documentation.
 *
 * 1. `terminals` and `fields` are complete: anything else in the file is refused by name.
 * 2. `netsUnder`, where given, is the name of the object that holds the nets (a timer's `pins`).
 * 3. `paths`, `steadyPaths`, `sources` and `joins` say what the part connects, so that `checkCircuit` can find nets that
 *    nothing can ever hold and loops that no current could obey. They are asked only about parts without faults.
 * 4. `derive` adds values that follow from several fields together, or refuses fields that do not go together.
 */
export interface PartKind {
  readonly kind: string;
  readonly title: string;
  readonly terminals: readonly Terminal[];
  readonly netsUnder?: string;
  readonly fields: readonly Field[];
  /** Pairs of terminals that must lie on different nets. */
  readonly apart?: TerminalPairs;
  /** Pairs of terminals that conduct (or are joined by a capacitor) in at least one state of the part. */
  paths(part: Part): TerminalPairs;
  /** Those of `paths` that conduct while every switch is open; all of them where absent. */
  steadyPaths?(part: Part): TerminalPairs;
  /** Pairs of terminals always held at a stated voltage through no resistance. */
  sources(part: Part): TerminalPairs;
  /** Pairs of terminals that are always one and the same net (a resistance of 0 Ω); none where absent. */
  joins?(part: Part): TerminalPairs;
  /** Further values for `Part.values`, or what is wrong between the fields. */
  derive?(values: Readonly<Record<string, unknown>>): DerivedValues | (FieldFault & { readonly field: string });
}

/** What `PartKind.derive` adds to a part's values. */
interface DerivedValues {
  readonly ok: true;
  readonly values: Readonly<Record<string, unknown>>;
}

/** The part kinds a program knows, by name. `circuit` itself knows none: the standard table is passed in. */
export type PartKinds = ReadonlyMap<string, PartKind>;
