import { kindFields, mainFields } from '@two-thirds/sim/document';
import { boardNames } from './board-names.ts';
import { boardParts } from './board-values.ts';
import { hasOwnParts, partEnds, startingNets } from './circuit-edits.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { type PartStart, partStart } from './part-starts.ts';
import { pageOf } from './page.ts';
import { valueAt, withValue } from './path.ts';

/**
 * What an end is among the ends of its part: where current goes in as it is counted, where it comes out, or its own name.
 * Ends of the same meaning take each other's net; a wiper or a base has none in other kinds.
 */
const meanings: Readonly<Record<string, string>> = {
  a: 'in',
  plus: 'in',
  collector: 'in',
  b: 'out',
  minus: 'out',
  emitter: 'out',
};

/**
 * Makes a part of a board's own list one of another kind, in its place and under its name. Ends that mean the same stay
 * on their nets, fields of the same name and unit keep what stands in them, everything else is as on a new part. Knobs
 * that would turn nothing go. `undefined` where there is no such part, or nothing to change.
 */
export function changeKind(document: Json, board: string, part: string, kind: string): Edit | undefined {
  const start = partStart(kind);
  const parts = boardParts(document, board);
  const index = parts.findIndex((each) => each['name'] === part);
  const old = parts[index];
  const list = valueAt(document, ['boards', board, 'parts']);
  if (start === undefined || old === undefined || old['kind'] === kind) return undefined;
  if (!hasOwnParts(document, board) || !isList(list)) return undefined;
  const made: JsonRecord = {
    name: part,
    kind,
    ...carriedNets(document, board, old, start),
    ...start.values,
    ...carriedFields(old, kind),
  };
  const value = withValue(document, ['boards', board, 'parts', list.indexOf(old)], made);
  return { path: [], value: withoutIdleKnobs(value, board, part, kind), label: `${part} to ${start.words}` };
}

function carriedNets(document: Json, board: string, old: JsonRecord, start: PartStart): JsonRecord {
  const { nets: taken } = boardNames(document, board);
  const fresh = startingNets(document, board, start, taken);
  const before = new Map<string, string>();
  for (const { terminal, net } of partEnds(old)) {
    const open = partStart(old['kind'])?.terminals.find(({ name }) => name === terminal)?.open;
    const lies = net === '' ? open : net;
    if (lies !== undefined) before.set(meaningOf(old['kind'], terminal), lies);
  }
  const inner = start.netsUnder === undefined ? fresh : (fresh[start.netsUnder] as JsonRecord);
  const nets = Object.fromEntries(
    start.terminals.flatMap(({ name }) => {
      const net = before.get(meaningOf(start.kind, name)) ?? inner[name];
      return net === undefined ? [] : [[name, net] as const];
    }),
  );
  return start.netsUnder === undefined ? nets : { [start.netsUnder]: nets };
}

/** A timer's ends have names of their own, and each of them means only itself. */
function meaningOf(kind: Json | undefined, terminal: string): string {
  return kind === 'timer' ? `timer ${terminal}` : (meanings[terminal] ?? terminal);
}

function carriedFields(old: JsonRecord, kind: string): JsonRecord {
  const oldKind = typeof old['kind'] === 'string' ? old['kind'] : '';
  const fits = kindFields(kind).filter(({ name, unit }) =>
    kindFields(oldKind).some((each) => each.name === name && each.unit === unit),
  );
  return Object.fromEntries(
    fits.flatMap(({ name }) => {
      const value = old[name];
      return value === undefined ? [] : [[name, value] as const];
    }),
  );
}

function withoutIdleKnobs(document: Json, board: string, part: string, kind: string): Json {
  const fields = kindFields(kind);
  const main = fields.find(({ name }) => name === mainFields.get(kind));
  const turns = (knob: Json): boolean => {
    if (knob === part) return main?.unit !== undefined;
    if (typeof knob !== 'string' || !knob.startsWith(`${part}.`)) return true;
    return fields.some(({ name }) => name === knob.split(/[.[]/)[1]);
  };
  let value = document;
  for (const [index, cell] of pageOf(document).entries()) {
    const knobs = isRecord(cell) && cell['board'] === board ? cell['knobs'] : undefined;
    if (!isList(knobs) || knobs.every(turns)) continue;
    value = withValue(value, ['page', index, 'knobs'], knobs.filter(turns));
  }
  return value;
}
