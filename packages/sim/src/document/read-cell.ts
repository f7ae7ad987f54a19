import * as v from 'valibot';
import { isName } from '../circuit/names.ts';
import { nearestName } from '../core/nearest-name.ts';
import type { Issue } from '../core/errors.ts';
import { formatQuantity } from '../quantity/index.ts';
import { CELL_KINDS, cellSchema } from './cell-schema.ts';
import type { Cell } from './notebook-document.ts';
import { reservedNameFault } from './reserved-names.ts';
import { fault, foundData, schemaIssues } from './schema-wording.ts';

/** A cell as read, or everything that is wrong with it. */
export type ReadCell =
  | { readonly ok: true; readonly cell: Cell }
  | { readonly ok: false; readonly issues: readonly Issue[] };

/**
 * Checks one cell of a page by itself: kind, fields, types, times. Whether the board, nets and timers it names exist is
 * for `checkCellAgainstBoard`.
 *
 * @param data the cell as it stands in the file.
 * @param index its position on the page, counted from 0.
 */
export function readCell(data: unknown, index: number): ReadCell {
  const place = `page[${index}]`;
  const label = cellLabel(data, index);
  const reserved = reservedNameFault(data, place);
  if (reserved !== undefined) return { ok: false, issues: [reserved] };
  const kindFault = unknownKind(data, place, label);
  if (kindFault !== undefined) return { ok: false, issues: [kindFault] };
  const result = v.safeParse(cellSchema, data);
  if (!result.success) return { ok: false, issues: schemaIssues(result.issues, place, label) };
  const cell = result.output;
  if ('until' in cell && cell.kind !== 'claim' && cell.until <= cell.from) {
    const rule = `be later than from (${formatQuantity(cell.from, 's')})`;
    const got = formatQuantity(cell.until, 's');
    const late = fault('out-of-range', `${place}.until`, {
      label,
      field: 'until',
      rule,
      got,
      advice: 'Move one of the two.',
    });
    return { ok: false, issues: [late] };
  }
  return { ok: true, cell };
}

/** The key of a cell in results: its id, or its place where it has none that can be used. */
export function cellKey(data: unknown, index: number): string {
  return idOf(data) ?? `page[${index}]`;
}

/** How messages name a cell: place and id, `page[2] (numbers)`. */
export function cellLabel(data: unknown, index: number): string {
  const id = idOf(data);
  return id === undefined ? `page[${index}]` : `page[${index}] (${id})`;
}

/** The kind a cell says it has, for results of cells that could not be read. */
export function cellKindText(data: unknown): string {
  const kind = fieldOf(data, 'kind');
  return typeof kind === 'string' ? kind.slice(0, 40) : 'unknown';
}

function idOf(data: unknown): string | undefined {
  const id = fieldOf(data, 'id');
  return typeof id === 'string' && isName(id) ? id : undefined;
}

function fieldOf(data: unknown, name: string): unknown {
  if (typeof data !== 'object' || data === null || !Object.hasOwn(data, name)) return undefined;
  return (data as Record<string, unknown>)[name];
}

function unknownKind(data: unknown, place: string, label: string): Issue | undefined {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    const rule = 'be a cell: an object with id, kind and further fields';
    return fault('wrong-type', place, {
      label,
      rule,
      got: foundData(data),
      advice: 'Write { "id": "intro", "kind": "note", ... }.',
    });
  }
  const kind = fieldOf(data, 'kind');
  if (CELL_KINDS.some((known) => known === kind)) return undefined;
  const where = `${place}.kind`;
  const rule = `be one of ${CELL_KINDS.join(', ')}`;
  const near = typeof kind === 'string' ? nearestName(kind, CELL_KINDS) : undefined;
  const advice = near === undefined ? 'Choose one of them.' : `Did you mean ${near}?`;
  return fault('unknown-kind', where, { label, field: 'kind', rule, got: foundData(kind), advice });
}
