import { openHistory } from '#notebook/edit/history.ts';
import type { Json } from '#notebook/edit/json.ts';
import { FORM, type KeptNotebook } from '#notebook/storage/kept-notebook.ts';

/** A small page as it is kept. */
export function keptNotebook(change: Partial<KeptNotebook> = {}): KeptNotebook {
  const document: Json = { format: 'two-thirds', version: 1, title: 'Signal box', boards: {}, page: [] };
  return {
    key: 'page-1',
    form: FORM,
    revision: 0,
    changed: 1000,
    title: 'Signal box',
    introduction: '',
    opened: document,
    history: openHistory(document),
    predictions: {},
    folded: [],
    ...change,
  };
}
