import { checkBoards, parseDocument } from '@two-thirds/sim/document';
import type { Circuit, Part } from '@two-thirds/sim/circuit';
import type { LiveFailure, PressPart } from '../runtime/live-protocol.ts';

/** A board made ready to be run by hand. */
export interface LiveBoard {
  /** Its circuit, linked boards included, without presses that are planned for parts a hand works. */
  readonly circuit: Circuit;
  /** Put before the board's own names in the circuit. */
  readonly prefix: string;
  readonly presses: readonly PressPart[];
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
 * and fingers is left out: whoever runs it decides.
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
  const parts = circuit.parts.map((part) => {
    const press = part.name.startsWith(prefix) ? pressPart(part, prefix) : undefined;
    if (press === undefined) return part;
    presses.push(press);
    return { ...part, values: { ...part.values, [plans[press.kind]]: [] } };
  });
  return { circuit: { parts, nets: circuit.nets }, prefix, presses };
}

function pressPart({ name, kind, values }: Part, prefix: string): PressPart | undefined {
  if (!isWorked(kind)) return undefined;
  const planned = values[plans[kind]];
  return {
    part: name.slice(prefix.length),
    kind,
    closed: values['closed'] === true,
    planned: Array.isArray(planned) && planned.length > 0,
  };
}

function isWorked(kind: string): kind is PressPart['kind'] {
  return Object.hasOwn(plans, kind);
}
