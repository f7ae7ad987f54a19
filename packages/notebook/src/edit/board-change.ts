import { type FaultChange, faultyEntries } from '@two-thirds/sim/document';
import { typedQuantity } from '@two-thirds/sim/quantity';
import { boardNames } from './board-names.ts';
import { boardParts, valueChange } from './board-values.ts';
import { hasOwnParts, takeInHand } from './circuit-edits.ts';
import type { Edit } from './history.ts';
import { isList, type Json, type JsonRecord } from './json.ts';
import { loadPoint, type PointValue } from './load-point.ts';
import { freeName } from './page-edits.ts';
import { valueAt, withValue } from './path.ts';

/** A fault that is put on a board. */
interface FaultOnBoard {
  readonly fault: FaultChange;
  /** In a few words: `R1 open or missing`. */
  readonly title: string;
}

/** An instrument that is joined to a net of a board and to ground. */
interface ProbeOnBoard {
  readonly net: string;
  /** In ohms. */
  readonly resistance: number;
}

/** What a study lets people do to a board: give it the values of a point, put a fault on it, or join an instrument. */
export type BoardChange = readonly PointValue[] | FaultOnBoard | ProbeOnBoard;

/**
 * The one edit that does it, with a label that names it. A ready board whose parts change their joints or number becomes
 * a list of parts of its own with it. Undefined where it means nothing on the board.
 */
export function changeBoard(document: Json, board: string, change: BoardChange): Edit | undefined {
  if ('fault' in change) return loadFault(document, board, change);
  if ('net' in change) return joinProbe(document, board, change);
  return loadPoint(document, board, change);
}

function loadFault(document: Json, board: string, { fault, title }: FaultOnBoard): Edit | undefined {
  const entries = faultyEntries(boardParts(document, board), fault) as JsonRecord[] | undefined;
  if (entries === undefined) return undefined;
  if (fault.steps.every(({ step }) => step === 'set')) return setFields(document, board, { fault, title });
  return withParts(document, board, title, (parts) =>
    parts.flatMap((part) => (part['name'] === fault.part ? entries : [part])),
  );
}

/** A fault that only changes fields leaves a ready board what it is. */
function setFields(document: Json, board: string, { fault, title }: FaultOnBoard): Edit | undefined {
  let after = document;
  for (const step of fault.steps) {
    for (const [field, value] of Object.entries(step.step === 'set' ? step.values : {})) {
      const change = valueChange(after, board, { part: fault.part, steps: [field] }, value as Json);
      if (change === undefined) return undefined;
      after = withValue(after, change.path, change.value);
    }
  }
  return { path: ['boards', board], value: valueAt(after, ['boards', board]), label: title };
}

function joinProbe(document: Json, board: string, { net, resistance }: ProbeOnBoard): Edit | undefined {
  const { nets, parts: taken } = boardNames(document, board);
  if (!nets.includes(net)) return undefined;
  const name = freeName(taken, 'instrument');
  const probe = {
    name,
    kind: 'probe',
    a: net,
    b: 'ground',
    resistance: typedQuantity(Number(resistance.toPrecision(5)), 'Ω'),
    capacitance: '0 F',
  };
  return withParts(document, board, `join ${name} to ${net}`, (parts) => [...parts, probe]);
}

/** Replaces the parts list of a board, taking a ready one into one's own hands before. */
function withParts(
  document: Json,
  board: string,
  label: string,
  change: (parts: readonly JsonRecord[]) => readonly JsonRecord[],
): Edit | undefined {
  const taken = hasOwnParts(document, board) ? undefined : takeInHand(document, board);
  const after = taken === undefined ? document : withValue(document, taken.path, taken.value);
  if (!isList(valueAt(after, ['boards', board, 'parts']))) return undefined;
  const list = withValue(after, ['boards', board, 'parts'], change(boardParts(after, board)));
  return { path: ['boards', board], value: valueAt(list, ['boards', board]), label };
}
