import { boardParts } from './board-values.ts';
import { boardNames } from './board-names.ts';
import { hasOwnParts, takeInHand } from './circuit-edits.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { valueAt, withValue } from './path.ts';
import { isWrittenOut, partValue, withPartValue } from './place-value.ts';
import type { AskedOfBoard, AskedValue, WhatIfMark } from './what-if-mark.ts';

/** Something that can be asked of a board at a press: another timer, another supply, a meter on a net. */
export interface WhatIf {
  /** Tells it from the others of its board. */
  readonly key: string;
  /** What it is called where it is offered: `cmos`. */
  readonly words: string;
  /** What it is called where it stands alone: `U1 of the family cmos`. */
  readonly told: string;
  /** What the step of undo is called: `U1 to cmos`. */
  readonly label: string;
  /** The figures that it takes and where they come from, each a full sentence. */
  readonly notes: readonly string[];
  readonly values: readonly AskedValue[];
  /** A part that is laid on the board, without its name, and the letters that its name begins with. */
  readonly adds?: { readonly letters: string; readonly part: JsonRecord };
}

/** What can be asked of a board about one thing, as the rest of a sentence that begins with "What if". */
export interface WhatIfGroup {
  /** What it is about: `timer`. */
  readonly about: string;
  /** What comes before the offers: `U1 were`. */
  readonly before: string;
  readonly offers: readonly WhatIf[];
}

/**
 * The edit that asks something of a board. What was asked before and stands at the same places is taken back first: a
 * board has one supply voltage.
 *
 * @param asked what is asked of the page already.
 */
export function ask(document: Json, board: string, whatIf: WhatIf, asked: readonly AskedOfBoard[]): Edit | undefined {
  const clashing = inTheWay(board, whatIf, asked);
  let after = takenBack(document, clashing);
  const values = whatIf.values
    .map((value) => ({
      ...value,
      before: partValue(after, board, value.part, value.steps),
      wasWritten: isWrittenOut(after, board, value.part, value.steps),
    }))
    .filter(({ value, before }) => !same(value, before));
  for (const { part, steps, value } of values) {
    const next = withPartValue(after, board, part, steps, value);
    if (next === undefined) return undefined;
    after = next;
  }
  const laid = whatIf.adds === undefined ? { document: after } : lay(after, board, whatIf.adds);
  if (laid === undefined) return undefined;
  const { document: made, ...more } = laid;
  const { key, told, label, notes } = whatIf;
  const on: AskedOfBoard = { board, key, told, label, notes, values, ...more };
  return edit(made, board, label, { board, on, off: clashing.map((each) => each.key) });
}

/** The edit that takes back some of what was asked of a board; undefined where nothing was. */
export function takeBack(document: Json, board: string, asked: readonly AskedOfBoard[]): Edit | undefined {
  const own = asked.filter((each) => each.board === board);
  if (own.length === 0) return undefined;
  const label = `back from ${own.map((each) => each.label).join(' and ')}`;
  return edit(takenBack(document, own), board, label, { board, off: own.map(({ key }) => key) });
}

/** The document as it would be without what was asked, the last first. */
export function takenBack(document: Json, asked: readonly AskedOfBoard[]): Json {
  let after = document;
  for (const { board, values, added, ready } of [...asked].reverse()) {
    if (added !== undefined) after = lifted(after, board, added, ready);
    for (const { part, steps, before, wasWritten } of [...values].reverse())
      after = withPartValue(after, board, part, steps, before, wasWritten) ?? after;
  }
  return after;
}

/** Whether a board still is as it was asked to be: somebody may have changed one of the values since. */
export function isStillAsked(document: Json, { board, values, added }: AskedOfBoard): boolean {
  const isLaid = added === undefined || boardParts(document, board).some((part) => same(part, added));
  return isLaid && values.every(({ part, steps, value }) => same(partValue(document, board, part, steps), value));
}

/** What is asked of a board at the same places as something else, so that it cannot stay. */
export function inTheWay(
  board: string,
  { values }: Pick<WhatIf, 'values'>,
  asked: readonly AskedOfBoard[],
): readonly AskedOfBoard[] {
  const isIn = ({ part, steps }: AskedValue): boolean =>
    values.some((each) => each.part === part && each.steps[0] === steps[0]);
  return asked.filter((each) => each.board === board && each.values.some(isIn));
}

/** Lays a part on a board, whose parts are taken in hand if they are those of a ready board. */
function lay(
  document: Json,
  board: string,
  { letters, part }: NonNullable<WhatIf['adds']>,
): { document: Json; added: JsonRecord; ready?: JsonRecord } | undefined {
  const data = valueAt(document, ['boards', board]);
  const inHand = takeInHand(document, board);
  const own = inHand === undefined ? document : withValue(document, inHand.path, inHand.value);
  const parts = valueAt(own, ['boards', board, 'parts']);
  if (!hasOwnParts(own, board) || !isList(parts)) return undefined;
  const { parts: taken } = boardNames(own, board);
  let number = 1;
  while (taken.includes(`${letters}${number}`)) number += 1;
  const added = { name: `${letters}${number}`, ...part };
  return {
    document: withValue(own, ['boards', board, 'parts'], [...parts, added]),
    added,
    ...(inHand !== undefined && isRecord(data) ? { ready: data } : {}),
  };
}

/** Takes a part off again; a board of which nothing else was changed is the ready board that it was. */
function lifted(document: Json, board: string, { name }: JsonRecord, ready: JsonRecord | undefined): Json {
  const parts = valueAt(document, ['boards', board, 'parts']);
  if (!isList(parts)) return document;
  const left = parts.filter((part) => !isRecord(part) || part['name'] !== name);
  const after = withValue(document, ['boards', board, 'parts'], left);
  if (ready === undefined) return after;
  const before = withValue(document, ['boards', board], ready);
  return same(boardParts(before, board), boardParts(after, board)) ? before : after;
}

function edit(document: Json, board: string, label: string, whatIf: WhatIfMark): Edit | undefined {
  const value = valueAt(document, ['boards', board]);
  return value === undefined ? undefined : { path: ['boards', board], value, label, whatIf };
}

function same(one: Json | undefined, other: Json | undefined): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}
