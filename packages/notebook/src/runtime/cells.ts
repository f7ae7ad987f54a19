import { isList, isRecord, type Json, type JsonRecord } from '../edit/json.ts';
import { valueAt } from '../edit/path.ts';

/** A cell of the page as the notebook sees it: what it is and where it stands; its fields stay raw. */
export interface PageCell {
  readonly id: string;
  readonly kind: string;
  /** Position on the page. */
  readonly index: number;
  readonly data: JsonRecord;
}

/** Cells by page: whoever asks twice gets the very same ones, and nothing that shows them has to be drawn anew. */
const known = new WeakMap<readonly Json[], readonly PageCell[]>();

/** The cells of a document in page order. What is no cell (no object, no id) is left out; the document check names it. */
export function cellsOf(document: Json): readonly PageCell[] {
  const page = valueAt(document, ['page']);
  if (!isList(page)) return [];
  const before = known.get(page);
  if (before !== undefined) return before;
  const cells = page.flatMap((data, index) => {
    if (!isRecord(data) || typeof data['id'] !== 'string') return [];
    return [{ id: data['id'], kind: textField(data, 'kind') ?? '', index, data }];
  });
  known.set(page, cells);
  return cells;
}

/** Whether a cell, where it is in sight, shows what comes of a turned knob at once: its trace and its readings. */
export function isDraggedAlong(cell: PageCell | undefined): boolean {
  return cell?.kind === 'trace' || cell?.kind === 'reading';
}

/** A field of a cell where it holds text. */
export function textField(data: JsonRecord, field: string): string | undefined {
  const value = data[field];
  return typeof value === 'string' ? value : undefined;
}

/** A field as it is written where it is edited; a plain number is a time. */
export function written(value: Json | undefined): string {
  if (value === undefined) return '';
  return typeof value === 'string' ? value : typeof value === 'number' ? `${value} s` : JSON.stringify(value);
}

/** The board a cell works on, if it names one. */
export function boardOf(cell: PageCell): string | undefined {
  return textField(cell.data, 'board');
}

/** The title of a document, or what to call one without. */
export function titleOf(document: Json): string {
  const title = valueAt(document, ['title']);
  return typeof title === 'string' && title.trim() !== '' ? title : 'Untitled page';
}
