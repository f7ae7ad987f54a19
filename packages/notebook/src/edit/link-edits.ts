import { boardNames, terminalNets } from './board-names.ts';
import { boardParts } from './board-values.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { valueAt } from './path.ts';

/** A link between two boards, seen from one of them. */
export interface LinkView {
  /** Position among the links of the document. */
  readonly index: number;
  /** The field that holds this board's end, and the one that holds the other end. */
  readonly near: 'a' | 'b';
  readonly far: 'a' | 'b';
  /** The net of this board, without the board. */
  readonly net: string;
  /** The other end, `board.net`. */
  readonly other: string;
  readonly closed: boolean;
  /** The link as it stands in the document. */
  readonly data: JsonRecord;
}

/** The links that lead from a board. */
export function linksOf(document: Json, board: string): readonly LinkView[] {
  return allLinks(document).flatMap((link, index) => {
    if (!isRecord(link)) return [];
    const near = (['a', 'b'] as const).find((end) => textOf(link[end]).startsWith(`${board}.`));
    if (near === undefined) return [];
    const far = near === 'a' ? 'b' : 'a';
    const net = textOf(link[near]).slice(board.length + 1);
    return [{ index, near, far, net, other: textOf(link[far]), closed: link['closed'] !== false, data: link }];
  });
}

/** The key of a link among the parts of a board: no part can have such a name. @param index its position. */
export function linkName(index: number): string {
  return `link ${index + 1}`;
}

/** What a link is called wherever it is told of, as everything that is computed calls it. @param index its position. */
export function linkLabel(index: number): string {
  return `link${index + 1}`;
}

/** Every net of the boards of a document but one, as `board.net`: where a link may lead. */
export function farEnds(document: Json, board: string): readonly string[] {
  return otherBoards(document, board).flatMap((other) =>
    boardNames(document, other).nets.map((net) => `${other}.${net}`),
  );
}

/**
 * Links what a board puts out to what another waits for, by a jumper that is open until its nets are right;
 * `undefined` where one of them has no net to link.
 */
export function addLink(document: Json, board: string, other: string): Edit | undefined {
  const [net, far] = [netOf(document, board, 'output'), netOf(document, other, 'trigger')];
  if (net === undefined || far === undefined) return undefined;
  const value = [...allLinks(document), { a: `${board}.${net}`, b: `${other}.${far}`, closed: false }];
  return { path: ['links'], value, label: `link ${board} to ${other}` };
}

/** Takes a link out; the list goes with the last one. */
export function removeLink(document: Json, index: number): Edit {
  const left = allLinks(document).filter((_, each) => each !== index);
  return { path: ['links'], value: left.length === 0 ? undefined : left, label: `take out ${linkLabel(index)}` };
}

/** Leads an end of a link to another net, written `board.net`. */
export function leadLink(index: number, end: 'a' | 'b', to: string): Edit {
  return { path: ['links', index, end], value: to, label: `${linkLabel(index)} to ${to}` };
}

/** Plugs the jumper of a link in, or pulls it. */
export function closeLink(index: number, closed: boolean): Edit {
  const value = closed ? undefined : false;
  return { path: ['links', index, 'closed'], value, label: `${closed ? 'close' : 'open'} ${linkLabel(index)}` };
}

/** Gives a link other presses; the field goes with the last one. */
export function pressLink(index: number, presses: readonly Json[], label: string): Edit {
  return { path: ['links', index, 'presses'], value: presses.length === 0 ? undefined : presses, label };
}

/** Names of the boards of a document but one. */
export function otherBoards(document: Json, board: string): readonly string[] {
  const boards = valueAt(document, ['boards']);
  return Object.keys(isRecord(boards) ? boards : {}).filter((each) => each !== board);
}

/** The net of a pin of the board's first timer, else its first net that is not the reference. */
function netOf(document: Json, board: string, pin: string): string | undefined {
  const timer = boardParts(document, board).find((part: JsonRecord) => part['kind'] === 'timer');
  const ofPin = timer === undefined ? undefined : terminalNets(timer)[pin];
  return ofPin ?? boardNames(document, board).nets.find((net) => net !== 'ground');
}

function allLinks(document: Json): readonly Json[] {
  const links = valueAt(document, ['links']);
  return isList(links) ? links : [];
}

function textOf(value: Json | undefined): string {
  return typeof value === 'string' ? value : '';
}
