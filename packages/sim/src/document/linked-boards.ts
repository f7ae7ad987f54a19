import { checkCircuit } from '../circuit/check-circuit.ts';
import { checkNets } from '../circuit/check-nets.ts';
import type { Circuit, PartKinds } from '../circuit/description.ts';
import { Groups } from '../circuit/groups.ts';
import { GROUND } from '../circuit/names.ts';
import { type ReadPart, readPart } from '../circuit/read-part.ts';
import type { Issue } from '../core/errors.ts';
import { quotedText } from '../core/found-text.ts';
import { isObject, ownEntry } from '../field/record.ts';
import type { ExpandedBoard } from './expand-board.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import { fault, foundData } from './schema-wording.ts';

/** More links than this are refused. */
const MOST_LINKS = 200;

/** A link of a document after checking: a jumper between nets of two boards. */
export interface BoardLink {
  /** Nets as `board.net`. */
  readonly a: string;
  readonly b: string;
  /** The jumper, its nets still to be put in. */
  readonly jumper: ReadPart;
}

/** All links of a document, and what is wrong with them. */
export interface CheckedLinks {
  readonly links: readonly BoardLink[];
  readonly issues: readonly Issue[];
  /** Boards that cannot be run because a link of theirs has a fault, with those faults. */
  readonly blocked: ReadonlyMap<string, readonly Issue[]>;
}

/** Boards that links make one circuit of, in the order of the document. */
export function linkedGroups(boards: readonly string[], links: readonly BoardLink[]): string[][] {
  const groups = new Groups();
  for (const { a, b } of links) groups.join(boardOf(a), boardOf(b));
  const byRepresentative = new Map<string, string[]>();
  for (const board of boards) {
    const representative = groups.representative(board);
    const group = byRepresentative.get(representative);
    if (group === undefined) byRepresentative.set(representative, [board]);
    else group.push(board);
  }
  return [...byRepresentative.values()];
}

/** The board of a net written as `board.net`. */
export function boardOf(end: string): string {
  return end.slice(0, end.indexOf('.'));
}

/**
 * Checks the links of a document: both ends must name a net of a board, and the rest is what a jumper has.
 *
 * @param boards the document's boards, expanded.
 */
export function checkLinks(
  data: readonly unknown[],
  boards: ReadonlyMap<string, ExpandedBoard>,
  kinds: PartKinds,
): CheckedLinks {
  if (data.length > MOST_LINKS) {
    const advice = 'Put what belongs together on one board.';
    const rule = `be at most ${MOST_LINKS} links`;
    const issues = [fault('too-many-links', 'links', { rule, got: String(data.length), advice })];
    return { links: [], issues, blocked: new Map([...boards.keys()].map((board) => [board, issues])) };
  }
  const links: BoardLink[] = [];
  const issues: Issue[] = [];
  const blocked = new Map<string, Issue[]>();
  for (const [index, link] of data.entries()) {
    const place = `links[${index}]`;
    const checked = checkLink(link, place, index, boards, kinds);
    if ('jumper' in checked) {
      links.push(checked);
      continue;
    }
    issues.push(...checked.issues);
    for (const board of boardsNamed(link, [...boards.keys()])) {
      blocked.set(board, [...(blocked.get(board) ?? []), ...checked.issues]);
    }
  }
  return { links, issues, blocked };
}

/** The boards a faulty link is about: the two it names, or all of them where that cannot be told. */
function boardsNamed(link: unknown, boards: readonly string[]): readonly string[] {
  const ends = isObject(link) ? [ownEntry(link, 'a'), ownEntry(link, 'b')] : [];
  const named = ends
    .flatMap((end) => (typeof end === 'string' ? [boardOf(end)] : []))
    .filter((board) => boards.includes(board));
  return named.length === 2 ? [...new Set(named)] : boards;
}

function checkLink(
  link: unknown,
  place: string,
  index: number,
  boards: ReadonlyMap<string, ExpandedBoard>,
  kinds: PartKinds,
): BoardLink | { issues: Issue[] } {
  if (!isObject(link)) {
    const advice = 'Write for example { "a": "flasher.out", "b": "counter.in" }.';
    return {
      issues: [fault('wrong-type', place, { rule: 'be an object with a and b', got: foundData(link), advice })],
    };
  }
  const { a, b, ...rest } = link;
  const issues = [...endIssues(a, `${place}.a`, boards, kinds), ...endIssues(b, `${place}.b`, boards, kinds)];
  const unknown = Object.keys(rest).filter((name) => name !== 'closed' && name !== 'presses');
  for (const name of unknown) {
    const rule = 'have no other fields than a, b, closed, presses';
    issues.push(
      fault('unknown-field', `${place}.${name}`, { label: place, rule, got: quotedText(name), advice: 'Remove it.' }),
    );
  }
  if (unknown.length > 0) return { issues };
  const name = `link${index + 1}`;
  // The nets stand in for the real ones, whose names have a dot.
  const jumper = readPart({ ...rest, name, kind: 'jumper', a: 'a', b: 'b' }, kinds, { place: '', index });
  const renamed = (text: string): string => (text.startsWith(name) ? place + text.slice(name.length) : text);
  issues.push(
    ...jumper.issues.map(({ part: _part, ...issue }) => ({
      ...issue,
      where: renamed(issue.where),
      message: renamed(issue.message),
    })),
  );
  if (issues.length > 0) return { issues };
  return { a: String(a), b: String(b), jumper };
}

function endIssues(end: unknown, where: string, boards: ReadonlyMap<string, ExpandedBoard>, kinds: PartKinds): Issue[] {
  const refuse = (rule: string, advice: string): Issue[] => [
    fault('link-end', where, { rule, got: foundData(end), advice }),
  ];
  const [board = '', net, more] = typeof end === 'string' ? end.split('.') : [];
  if (net === undefined || more !== undefined) {
    return refuse('be a net of a board, written board.net', 'Write for example "flasher.out".');
  }
  const expanded = boards.get(board);
  if (expanded === undefined) {
    const names = [...boards.keys()];
    return refuse(`begin with a board (${listedNames(names)})`, nameAdvice(board, names, 'Correct the name.'));
  }
  const nets = netsMentioned(expanded, kinds);
  if (nets.includes(net)) return [];
  return refuse(`name a net of ${board} (${listedNames(nets)})`, nameAdvice(net, nets, 'Correct the name.'));
}

/** All nets a board mentions, `ground` first. */
function netsMentioned(board: ExpandedBoard, kinds: PartKinds): string[] {
  const parts = isObject(board.data) ? ownEntry(board.data, 'parts') : undefined;
  if (!Array.isArray(parts)) return [GROUND];
  const nets = parts.flatMap((part: unknown, index) => readPart(part, kinds, { place: '', index }).mentioned);
  return [...new Set([GROUND, ...nets])];
}

/**
 * Makes one circuit of linked boards: parts and nets become `board.name`, `ground` stays what it is, so that all boards
 * share their 0 V, and every link becomes a jumper.
 */
export function joinBoards(
  names: readonly string[],
  boards: ReadonlyMap<string, ExpandedBoard>,
  links: readonly BoardLink[],
  kinds: PartKinds,
): { readonly issues: readonly Issue[]; readonly circuit?: Circuit } {
  const shells = names.flatMap((name) => {
    const data = boards.get(name)?.data;
    const hasList = isObject(data) && Array.isArray(ownEntry(data, 'parts'));
    return hasList ? [] : checkCircuit(data, kinds, `boards.${name}`).issues;
  });
  if (shells.length > 0) return { issues: shells };
  const entries: ReadPart[] = names.flatMap((name) => boardEntries(name, boards.get(name)?.data, kinds));
  for (const { a, b, jumper } of links) {
    if (!names.includes(boardOf(a))) continue;
    entries.push(withNets(jumper, (net) => commonGround(net === 'a' ? a : b)));
  }
  const issues = [...entries.flatMap((entry) => entry.issues), ...checkNets(entries, kinds, 'boards')];
  if (issues.some((issue) => issue.severity === 'fault')) return { issues };
  const parts = entries.flatMap((entry) => (entry.part === undefined ? [] : [entry.part]));
  const nets = new Set([GROUND, ...entries.flatMap((entry) => entry.mentioned)]);
  return { issues, circuit: { parts, nets: [...nets] } };
}

function boardEntries(board: string, data: unknown, kinds: PartKinds): ReadPart[] {
  const list = isObject(data) ? ownEntry(data, 'parts') : undefined;
  if (!Array.isArray(list)) return [];
  const first = new Map<unknown, number>();
  return list.map((input: unknown, index) => {
    const name = isObject(input) ? ownEntry(input, 'name') : undefined;
    const earlier = first.get(name);
    if (typeof name === 'string' && earlier === undefined) first.set(name, index);
    const place = { place: `boards.${board}`, index };
    const entry = readPart(input, kinds, earlier === undefined ? place : { ...place, earlier });
    const label = `${board}.${entry.label}`;
    const renamed = withNets(entry, (net) => (net === GROUND ? net : `${board}.${net}`));
    const { part } = renamed;
    return part === undefined ? { ...renamed, label } : { ...renamed, label, part: { ...part, name: label } };
  });
}

function withNets(entry: ReadPart, rename: (net: string) => string): ReadPart {
  const mentioned = entry.mentioned.map(rename);
  if (entry.part === undefined) return { ...entry, mentioned };
  const nets = Object.fromEntries(Object.entries(entry.part.nets).map(([terminal, net]) => [terminal, rename(net)]));
  return { ...entry, mentioned, part: { ...entry.part, nets } };
}

function commonGround(end: string): string {
  return end.endsWith(`.${GROUND}`) ? GROUND : end;
}
