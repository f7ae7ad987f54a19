import { predictBoard } from '../board/index.ts';
import { cautions } from '../circuit/cautions.ts';
import { dangers } from '../circuit/dangers.ts';
import type { Circuit, Part } from '../circuit/description.ts';
import { FLASHING, FLASHING_HARM } from '../circuit/flashing.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import type { GoodBoard } from './board-table.ts';
import type { BoardCell } from './notebook-document.ts';
import { netRows, partRows } from './part-rows.ts';
import type { BoardResult } from './results.ts';
import { shortName } from './short-name.ts';

/** Computes a board cell: parts list, nets, warnings, cautions, rules of thumb. Nothing is run. */
export function computeBoard(cell: BoardCell, board: GoodBoard): BoardResult {
  const own = ownCircuit(board);
  const textbook = board.ready === undefined ? [] : predictBoard(board.ready, own);
  const found = [...boardDangers(own, board), ...flashingDangers(own, textbook)];
  return {
    kind: 'board',
    ok: true,
    board: cell.board,
    parts: partRows(own.parts, board.parts, standardKinds),
    nets: netRows(withLinks(own, board)),
    issues: board.issues,
    dangers: found,
    cautions: cautions(own, found),
    textbook,
  };
}

/** The dangers of the board's own parts, with all that linked boards join to them. */
function boardDangers(own: Circuit, { circuit, prefix }: GoodBoard): string[] {
  const parts = circuit.parts.map((part) => shortNames(part, prefix));
  const nets = circuit.nets.map((net) => shortName(net, prefix));
  return dangers({ parts, nets }, new Set(own.parts.map(({ name }) => name)));
}

/** Lamps of a ready board that flash too fast by its rule of thumb; nothing is run here. */
function flashingDangers(own: Circuit, textbook: BoardResult['textbook']): string[] {
  const frequency = textbook.find(({ name }) => name === 'frequency')?.value ?? 0;
  const isFast = frequency >= FLASHING.from && frequency <= FLASHING.to;
  if (!isFast || !own.parts.some(({ kind }) => kind === 'led')) return [];
  const times = Number(frequency.toPrecision(3));
  return [
    `By the rule of thumb the lamps flash ${times} times a second: ${FLASHING_HARM}. Make them slower than that, or warn those who watch.`,
  ];
}

/** The board's own parts, with the names they have in the document. */
function ownCircuit({ circuit, prefix }: GoodBoard): Circuit {
  if (prefix === '') return circuit;
  const parts = circuit.parts.filter((part) => part.name.startsWith(prefix)).map((part) => shortNames(part, prefix));
  return { parts, nets: [...new Set(parts.flatMap((part) => Object.values(part.nets)))] };
}

function shortNames(part: Part, prefix: string): Part {
  const nets = Object.entries(part.nets).map(([terminal, net]) => [terminal, shortName(net, prefix)] as const);
  return { ...part, name: shortName(part.name, prefix), nets: Object.fromEntries(nets) };
}

/** The own parts, and the links that end on one of their nets. */
function withLinks(own: Circuit, { circuit, prefix }: GoodBoard): Pick<Circuit, 'parts'> {
  if (prefix === '') return own;
  const links = circuit.parts.filter((part) => {
    const joined = Object.values(part.nets).some((net) => net.startsWith(prefix));
    return joined && !part.name.includes('.');
  });
  return { parts: [...own.parts, ...links.map((part) => shortNames(part, prefix))] };
}
