import type { Json, JsonRecord } from './json.ts';
import type { Path } from './path.ts';

/** A value of a part that is to be another while something is asked of a board; `undefined` means its default. */
export interface AskedValue {
  readonly part: string;
  readonly steps: Path;
  readonly value: Json | undefined;
}

/** A value of a part that became another, and the one it was. */
interface ReplacedValue extends AskedValue {
  readonly before: Json | undefined;
  /** Whether that stood in the document itself, not only in the ready board that it names. */
  readonly wasWritten: boolean;
}

/** Something that was asked of a board, with what it takes to put the board back. */
export interface AskedOfBoard {
  readonly board: string;
  readonly key: string;
  readonly told: string;
  readonly label: string;
  readonly notes: readonly string[];
  readonly values: readonly ReplacedValue[];
  /** The part that was laid on the board. */
  readonly added?: JsonRecord;
  /** The board as it was, where its parts had to be taken in hand first. */
  readonly ready?: JsonRecord;
}

/** What an edit says about questions of the kind "what if": what it began to ask, and the keys of what it took back. */
export interface WhatIfMark {
  readonly board: string;
  readonly on?: AskedOfBoard;
  readonly off: readonly string[];
}
