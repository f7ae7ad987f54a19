import { checkBoards, parseDocument } from '@two-thirds/sim/document';
import type { Circuit, Part } from '@two-thirds/sim/circuit';
import { linkName } from '../edit/link-edits.ts';
import type { LiveFailure, PressPart } from '../runtime/live-protocol.ts';

/** A board made ready to be run by hand. */
export interface LiveBoard {
  /** Its circuit, linked boards included, without presses that are planned for parts a hand works. */
  readonly circuit: Circuit;
  /** Put before the board's own names in the circuit. */
  readonly prefix: string;
  readonly presses: readonly PressPart[];
  /** The jumpers to other boards: their names in the circuit, and those they have on the page. */
  readonly links: ReadonlyMap<string, string>;
}

/** Kinds that a hand works, and the field that plans it. */
const plans: Readonly<Record<PressPart['kind'], string>> = {
  button: 'presses',
  switch: 'presses',
  jumper: 'presses',
  finger: 'touches',
};

/**
 * Reads the board of a document for a run by hand. What the document plans for the board's own buttons, switches, jumpers
 * and fingers, and for its jumpers to other boards, is left out: whoever runs it decides.
 */
export function liveBoard(text: string, board: string): LiveBoard | LiveFailure {
  const { document, unusable } = parseDocument(text);
  if (document === undefined) return { message: unusable?.message ?? 'The document cannot be used.' };
  const found = checkBoards(document).boards.get(board);
  if (found === undefined) return { message: `The page has no board ${board}.` };
  if (!found.ok) {
    const issue = found.issues.find(({ severity }) => severity === 'fault') ?? found.issues[0];
    return { message: issue?.message ?? `Board ${board} cannot run.` };
  }
  const { circuit, prefix } = found;
  const presses: PressPart[] = [];
  const links = linksIn(circuit, prefix);
  const parts = circuit.parts.map((part) => {
    const link = links.get(part.name);
    const press =
      link !== undefined
        ? linkPress(part, link, prefix)
        : part.name.startsWith(prefix)
          ? pressPart(part, part.name.slice(prefix.length))
          : undefined;
    if (press === undefined) return part;
    presses.push(press);
    return { ...part, values: { ...part.values, [plans[press.kind]]: [] } };
  });
  return { circuit: { parts, nets: circuit.nets }, prefix, presses, links };
}

/** The jumpers that lead from a board to others: their names have no board before them. */
function linksIn({ parts }: Circuit, prefix: string): ReadonlyMap<string, string> {
  if (prefix === '') return new Map();
  const between = parts.filter(({ name }) => !name.includes('.'));
  const own = between.filter(({ nets }) => Object.values(nets).some((net) => net.startsWith(prefix)));
  return new Map(own.map(({ name }) => [name, linkName(Number(name.slice('link'.length)) - 1)]));
}

function linkPress(part: Part, name: string, prefix: string): PressPart | undefined {
  const other = Object.values(part.nets).find((net) => !net.startsWith(prefix));
  const press = pressPart(part, name);
  return press === undefined || other === undefined ? press : { ...press, label: `${part.name} to ${other}` };
}

function pressPart({ kind, values }: Part, part: string): PressPart | undefined {
  if (!isWorked(kind)) return undefined;
  const planned = values[plans[kind]];
  return {
    part,
    kind,
    closed: values['closed'] === true,
    planned: Array.isArray(planned) && planned.length > 0,
  };
}

function isWorked(kind: string): kind is PressPart['kind'] {
  return Object.hasOwn(plans, kind);
}
