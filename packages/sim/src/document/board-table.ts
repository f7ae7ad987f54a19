import type { ReadyBoard } from '../board/index.ts';
import { checkCircuit } from '../circuit/check-circuit.ts';
import type { Circuit, PartKinds } from '../circuit/description.ts';
import { nameFault } from '../circuit/names.ts';
import type { Issue } from '../core/errors.ts';
import { foundText } from '../core/found-text.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { type ExpandedBoard, expandBoard } from './expand-board.ts';
import { type BoardLink, boardOf, checkLinks, joinBoards, linkedGroups } from './linked-boards.ts';
import type { KnownChecks } from './known-checks.ts';
import { listedNames, nameAdvice } from './name-help.ts';
import type { NotebookDocument } from './notebook-document.ts';
import { placeInside } from './place.ts';
import { reservedNameFault } from './reserved-names.ts';
import { fault } from './schema-wording.ts';

/** A board that can be run, alone or together with the boards it is linked to. */
export interface GoodBoard {
  readonly ok: true;
  readonly name: string;
  /** Its parts list as written, or as its ready board brings it with the values put in. */
  readonly parts: readonly unknown[];
  readonly ready?: ReadyBoard;
  /** The circuit that is run: its own parts, and those of linked boards. */
  readonly circuit: Circuit;
  /** Put before the board's own part and net names in `circuit`: empty, or `board.` where it is linked. */
  readonly prefix: string;
  /** Warnings. */
  readonly issues: readonly Issue[];
}

/** A board that cannot be run, and everything found, faults and warnings. */
export interface FaultyBoard {
  readonly ok: false;
  readonly name: string;
  readonly issues: readonly Issue[];
}

/** The boards of a document, by name, after checking. */
export interface BoardTable {
  readonly boards: ReadonlyMap<string, GoodBoard | FaultyBoard>;
  /** Faults of links, which belong to no single board. */
  readonly linkIssues: readonly Issue[];
}

/**
 * Checks all boards and links of a document. Never throws, whatever they hold.
 *
 * @param known what was found of boards before.
 */
export function checkBoards(
  document: NotebookDocument,
  kinds: PartKinds = standardKinds,
  known?: KnownChecks,
): BoardTable {
  // Linked boards depend on each other; every other board is what it is by itself.
  if (known !== undefined && document.links === undefined) {
    const alone = Object.entries(document.boards).map(
      ([name, data]) => [name, known.board(name, data, () => checkByItself(name, data, kinds))] as const,
    );
    return { boards: new Map(alone), linkIssues: [] };
  }
  const expanded = new Map<string, ExpandedBoard>();
  for (const [name, board] of Object.entries(document.boards)) expanded.set(name, expand(name, board, kinds));
  const { links, issues: linkIssues, blocked } = checkLinks(document.links ?? [], expanded, kinds);
  const boards = new Map<string, GoodBoard | FaultyBoard>();
  for (const group of linkedGroups([...expanded.keys()], links)) {
    const faults = group.flatMap((name) => blocked.get(name) ?? []);
    for (const checked of checkGroup(group, expanded, links, kinds)) {
      const { name, issues } = checked;
      boards.set(name, faults.length === 0 ? checked : { ok: false, name, issues: [...new Set(faults), ...issues] });
    }
  }
  const inOrder = [...expanded.keys()].flatMap((name) => {
    const board = boards.get(name);
    return board === undefined ? [] : [[name, board] as const];
  });
  return { boards: new Map(inOrder), linkIssues };
}

/** Looks a board up for a cell that names it. */
export function boardFor(
  name: string,
  table: BoardTable,
  where: string,
  label: string,
): GoodBoard | { ok: false; issues: readonly Issue[] } {
  const board = table.boards.get(name);
  if (board !== undefined) return board;
  const names = [...table.boards.keys()];
  const rule =
    names.length === 0
      ? 'name a board of the document, which has none'
      : `name a board of the document (${listedNames(names)})`;
  const advice = nameAdvice(name, names, 'Correct the name, or add the board.');
  return {
    ok: false,
    issues: [fault('unknown-board', where, { label, field: 'board', rule, got: foundText(name), advice })],
  };
}

function checkByItself(name: string, data: unknown, kinds: PartKinds): GoodBoard | FaultyBoard {
  const [checked] = checkGroup([name], new Map([[name, expand(name, data, kinds)]]), [], kinds);
  return checked ?? { ok: false, name, issues: [] };
}

function expand(name: string, board: unknown, kinds: PartKinds): ExpandedBoard {
  const place = placeInside('boards', name);
  const wrongName = nameFault(name, 'counter');
  const refused = reservedNameFault(board, place);
  const issues: Issue[] = [];
  if (wrongName !== undefined) {
    issues.push({
      code: 'bad-name',
      severity: 'fault',
      where: place,
      message: `${place}: the name of a board ${wrongName}`,
    });
  }
  if (refused !== undefined) issues.push(refused);
  if (issues.length > 0) return { data: undefined, stated: new Map(), issues };
  return expandBoard(board, place, kinds);
}

function checkGroup(
  group: readonly string[],
  expanded: ReadonlyMap<string, ExpandedBoard>,
  links: readonly BoardLink[],
  kinds: PartKinds,
): (GoodBoard | FaultyBoard)[] {
  const linked = links.some(({ a }) => group.includes(boardOf(a)));
  const own = group.flatMap((name) => expanded.get(name)?.issues ?? []);
  // Without a parts list there is nothing more to find; what is missing has been said.
  const nothing = group.some(
    (name) => hasFault(expanded.get(name)?.issues ?? []) && expanded.get(name)?.data === undefined,
  );
  if (nothing) return group.map((name) => ({ ok: false, name, issues: own }));
  const checked = linked ? joinBoards(group, expanded, links, kinds) : checkAlone(group, expanded, kinds);
  const issues = [...own, ...checked.issues.map((issue) => statedPlace(issue, group, expanded))];
  return group.map((name) => {
    const board = expanded.get(name);
    if (checked.circuit === undefined || board === undefined || hasFault(own)) return { ok: false, name, issues };
    const parts = isObject(board.data) ? ownEntry(board.data, 'parts') : undefined;
    return {
      ok: true,
      name,
      parts: Array.isArray(parts) ? (parts as unknown[]) : [],
      ...(board.ready === undefined ? {} : { ready: board.ready }),
      circuit: checked.circuit,
      prefix: linked ? `${name}.` : '',
      issues,
    };
  });
}

function checkAlone(
  [name = '']: readonly string[],
  expanded: ReadonlyMap<string, ExpandedBoard>,
  kinds: PartKinds,
): ReturnType<typeof joinBoards> {
  return checkCircuit(expanded.get(name)?.data, kinds, `boards.${name}`);
}

/** A fault in a value that a ready board was given is placed where that value is stated. */
function statedPlace(issue: Issue, group: readonly string[], expanded: ReadonlyMap<string, ExpandedBoard>): Issue {
  for (const name of group) {
    const stated = expanded.get(name)?.stated ?? new Map<string, string>();
    for (const [value, where] of stated) {
      if (issue.where.startsWith(`boards.${name}.${value}`)) return { ...issue, where };
    }
  }
  return issue;
}

function hasFault(issues: readonly Issue[]): boolean {
  return issues.some((issue) => issue.severity === 'fault');
}
