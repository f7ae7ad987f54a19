import { boardNames } from './board-names.ts';
import { boardParts } from './board-values.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { mentionsPart } from './mentions.ts';
import { type PartStart, partStart } from './part-starts.ts';
import { pageOf } from './page.ts';
import { type Path, valueAt, withValue } from './path.ts';

/** One end of a part, as it is edited. */
export interface PartEnd {
  readonly terminal: string;
  /** The steps from the part to the net, such as `pins`, `trigger`. */
  readonly steps: readonly string[];
  /** The net it lies on; empty where it is open. */
  readonly net: string;
  readonly isOptional: boolean;
}

/** An edit of a parts list, and the part it is about. */
export interface PartEdit {
  readonly edit: Edit;
  readonly part: string;
}

/** Whether a board has a parts list of its own, so that parts can be added, removed and rewired. */
export function hasOwnParts(document: Json, board: string): boolean {
  return isList(valueAt(document, ['boards', board, 'parts']));
}

/** All ends of a part of a known kind, open ones included, in the order of its kind. */
export function partEnds(part: JsonRecord): readonly PartEnd[] {
  const start = partStart(part['kind']);
  return (start?.terminals ?? []).map(({ name, isOptional = false }) => {
    const steps = start?.netsUnder === undefined ? [name] : [start.netsUnder, name];
    const net = valueAt(part, steps);
    return { terminal: name, steps, net: typeof net === 'string' ? net : '', isOptional };
  });
}

/**
 * Adds a part of a kind at the end of a board's own list: under the next free name of its kind, joined so that the board
 * can be computed at once. `undefined` where the board has no list of its own or the kind is not known.
 */
export function addPart(document: Json, board: string, kind: string): PartEdit | undefined {
  const start = partStart(kind);
  if (start === undefined || !hasOwnParts(document, board)) return undefined;
  const { parts, nets } = boardNames(document, board);
  const name = numbered(start.letters, parts);
  const part = { name, kind, ...startingNets(document, board, start, nets), ...start.values };
  const list = ownList(document, board);
  return { edit: { path: partsPath(board), value: [...list, part], label: `add ${start.words}, ${name}` }, part: name };
}

/**
 * Takes a part out of a board's own list. Knobs that turn it go with it, as they would turn nothing; whatever asks about
 * it stays and complains at its own place (see `askingCells`), for it is somebody's question.
 */
export function removePart(document: Json, board: string, part: string): PartEdit | undefined {
  if (!hasOwnParts(document, board)) return undefined;
  const list = ownList(document, board).filter((each) => !isRecord(each) || each['name'] !== part);
  let value = withValue(document, partsPath(board), list);
  for (const [index, cell] of pageOf(document).entries()) {
    const knobs = isRecord(cell) && cell['board'] === board ? cell['knobs'] : undefined;
    if (!isList(knobs)) continue;
    const left = knobs.filter((knob) => knob !== part && !(typeof knob === 'string' && knob.startsWith(`${part}.`)));
    if (left.length < knobs.length) value = withValue(value, ['page', index, 'knobs'], left);
  }
  return { edit: { path: [], value, label: `take out ${part}` }, part };
}

/** Ids of the cells that ask about a part, knobs aside, in page order. */
export function askingCells(document: Json, board: string, part: string): readonly string[] {
  return pageOf(document).flatMap((cell) => {
    if (!isRecord(cell) || typeof cell['id'] !== 'string') return [];
    const asks = cell['kind'] !== 'board' && mentionsPart(document, cell, board, part);
    return asks ? [cell['id']] : [];
  });
}

/** Joins an end of a part to a net; an empty name leaves the end open. */
export function joinEnd(document: Json, board: string, part: string, end: PartEnd, net: string): Edit | undefined {
  const index = ownList(document, board).findIndex((each) => isRecord(each) && each['name'] === part);
  if (index < 0) return undefined;
  const label = net === '' ? `leave ${part} ${end.terminal} open` : `${part} ${end.terminal} to ${net}`;
  return { path: [...partsPath(board), index, ...end.steps], value: net === '' ? undefined : net, label };
}

/** Makes a ready board's parts the board's own list, name and values as they are; its rules of thumb stay behind. */
export function takeInHand(document: Json, board: string): Edit | undefined {
  if (hasOwnParts(document, board)) return undefined;
  const parts = boardParts(document, board);
  if (parts.length === 0) return undefined;
  return { path: ['boards', board], value: { parts }, label: `parts of ${board} in own hands` };
}

/** The next free name that begins so: `R3` after `R1` and `R2`. */
function numbered(letters: string, taken: readonly string[]): string {
  let number = 1;
  while (taken.includes(`${letters}${number}`)) number += 1;
  return `${letters}${number}`;
}

/** Where the ends of a new part of a kind go at first, as the part holds them. @param taken nets that there are already. */
export function startingNets(document: Json, board: string, start: PartStart, taken: readonly string[]): JsonRecord {
  const supply = boardParts(document, board).find((part) => part['kind'] === 'supply');
  const [plus, minus] = [supply?.['plus'], supply?.['minus']].map((net) => (typeof net === 'string' ? net : undefined));
  const known: Record<string, string> = { rail: plus ?? 'rail', ground: minus ?? 'ground' };
  // One more supply must not lie beside the first: two sources without resistance would fight.
  if (start.kind === 'supply' && supply !== undefined) known['rail'] = free('rail', taken);
  const nets = Object.entries(start.nets).map(([terminal, word]) => {
    const net = known[word] ?? free(word, taken);
    known[word] = net;
    return [terminal, net] as const;
  });
  const record: JsonRecord = Object.fromEntries(nets);
  return start.netsUnder === undefined ? record : { [start.netsUnder]: record };
}

/** A net of one's own: the word itself, or with a number; joints without a meaning always have one. */
function free(word: string, taken: readonly string[]): string {
  return word !== 'node' && !taken.includes(word)
    ? word
    : numbered(word, [...taken, ...(word === 'node' ? [] : [`${word}1`])]);
}

function partsPath(board: string): Path {
  return ['boards', board, 'parts'];
}

function ownList(document: Json, board: string): readonly Json[] {
  const list = valueAt(document, partsPath(board));
  return isList(list) ? list : [];
}
