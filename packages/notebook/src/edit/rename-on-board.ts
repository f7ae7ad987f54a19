import { partEnds } from './circuit-edits.ts';
import type { Edit } from './history.ts';
import { isList, isRecord, type Json, type JsonRecord } from './json.ts';
import { type BoardName, withName } from './mentions.ts';
import { valueAt, withValue } from './path.ts';

/** Gives a part of a board's own list another name. Knobs, readings, formulas, claims and studies of the page follow. */
export function renamePart(document: Json, board: string, from: string, to: string): Edit {
  const parts = (part: JsonRecord): JsonRecord => (part['name'] === from ? { ...part, name: to } : part);
  return everywhere(document, { board, what: 'part', name: from }, to, parts);
}

/**
 * Gives a net of a board another name at every part; readings, traces, claims and links follow. Where another net has
 * that name already the two become one.
 */
export function renameNet(document: Json, board: string, from: string, to: string): Edit {
  const name: BoardName = { board, what: 'net', name: from };
  return everywhere(document, name, to, (part) => {
    let changed: Json = part;
    for (const { steps, net } of partEnds(part)) if (net === from) changed = withValue(changed, steps, to);
    return isRecord(changed) ? changed : part;
  });
}

function everywhere(document: Json, from: BoardName, to: string, change: (part: JsonRecord) => JsonRecord): Edit {
  const path = ['boards', from.board, 'parts'];
  let value = withValue(document, path, mapRecords(valueAt(document, path), change));
  value = withValue(
    value,
    ['page'],
    mapRecords(valueAt(document, ['page']), (cell) => withName(document, cell, from, to)),
  );
  const links = valueAt(document, ['links']);
  if (from.what === 'net' && isList(links)) {
    const end = (each: Json | undefined) => (each === `${from.board}.${from.name}` ? `${from.board}.${to}` : each);
    value = withValue(
      value,
      ['links'],
      mapRecords(links, (link) => ({ ...link, a: end(link['a']), b: end(link['b']) })),
    );
  }
  return { path: [], value, label: `name ${from.name} ${to}` };
}

function mapRecords(list: Json | undefined, change: (record: JsonRecord) => JsonRecord): readonly Json[] {
  return (isList(list) ? list : []).map((each) => (isRecord(each) ? change(each) : each));
}
