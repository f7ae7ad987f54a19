import type { Issue } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import type { ClaimChoice } from '../study/claim-plan.ts';
import { boardSubject, type BoardValue, boardValue } from './board-subject.ts';
import type { GoodBoard } from './board-table.ts';
import type { CellPlace } from './cell-names.ts';
import type { ClaimRange } from './claim-schema.ts';
import { findValue, valueAlong } from './knob.ts';
import { placeInside } from './place.ts';
import { readAxis } from './read-axis.ts';
import { fault, foundData } from './schema-wording.ts';
import type { Vary } from './vary-schema.ts';

/** A value that a claim is tried over, as its board and its study know it, or what is wrong with it. */
export type ReadChoice =
  | { readonly ok: true; readonly choice: ClaimChoice; readonly value: BoardValue }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/** Reads one entry of `over`. @param name the value as written: `R1`, `U1.family`. */
export function readChoice(name: string, range: ClaimRange, board: GoodBoard, at: CellPlace): ReadChoice {
  const words = wordValue(name, board);
  if (words !== undefined) return readWords(words, range, board, at);
  const field = placeInside('over', name);
  const vary: Vary = { value: name, ...(isList(range) ? { values: range } : range) };
  const read = readAxis(vary, board, at, field);
  if (!read.ok) return read;
  const { axis, value } = read;
  const choice = {
    name,
    unit: value.unit,
    nominal: value.now,
    points: axis.points,
    continuous: vary.values === undefined,
    scale: axis.scale,
    words: null,
  };
  return { ok: true, choice, value };
}

function isList(range: ClaimRange): range is readonly unknown[] {
  return Array.isArray(range);
}

/** A value of the board that is a word, such as the family of a timer. */
function wordValue(name: string, board: GoodBoard): (BoardValue & { readonly word: string }) | undefined {
  if (boardValue(name, board).ok) return undefined;
  const found = findValue(name, board.parts, standardKinds);
  if (!found.ok) return undefined;
  const { part, steps } = found.path;
  const read = board.circuit.parts.find((each) => each.name === board.prefix + part);
  const word = valueAlong(read?.values, steps);
  return typeof word === 'string' ? { name, part, steps, unit: null, now: 0, word } : undefined;
}

function readWords(
  { word, ...found }: BoardValue & { readonly word: string },
  range: ClaimRange,
  board: GoodBoard,
  at: CellPlace,
): ReadChoice {
  const { name } = found;
  const field = placeInside('over', name);
  const where = `${at.place}.${field}`;
  if (!isList(range) || range.some((each) => typeof each !== 'string')) {
    const rule = `be a list of words, for ${name} is one`;
    const issue = fault('bad-range', where, {
      label: at.label,
      field,
      rule,
      got: foundData(range),
      advice: `Write for example [${JSON.stringify(word)}].`,
    });
    return { ok: false, issues: [issue] };
  }
  const listed = [...new Set(range as readonly string[])];
  const words = [word, ...listed.filter((each) => each !== word)];
  const value: BoardValue = { ...found, words };
  const subject = boardSubject(board, [value]);
  for (const [index, each] of words.entries()) {
    const built = subject(new Map([[name, index]]));
    if (built.ok) continue;
    const message = `${at.label}: ${field} must hold only words that ${name} can be; got ${foundText(each)}. ${built.reason}`;
    return { ok: false, issues: [{ code: 'bad-range', severity: 'fault', where, field, message }] };
  }
  const points = listed.map((each) => words.indexOf(each)).sort((a, b) => a - b);
  const choice = { name, unit: null, nominal: 0, points, continuous: false, scale: 'linear', words } as const;
  return { ok: true, choice, value };
}
