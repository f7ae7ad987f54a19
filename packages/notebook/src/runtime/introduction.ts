import type { Json } from '../edit/json.ts';
import { cellsOf, textField } from './cells.ts';

/** Longest introduction (characters). */
const LONGEST = 180;

/** The first sentences of a document's first note, as plain text. Links to numbers show their words. */
export function introduction(document: Json): string {
  const note = cellsOf(document).find((cell) => cell.kind === 'note');
  const text = note === undefined ? '' : (textField(note.data, 'text') ?? '');
  const paragraph = text.split(/\n\s*\n/).find((each) => each.trim() !== '' && !each.startsWith('#')) ?? '';
  const plain = paragraph
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/[*_`>]/g, '')
    .replace(/\s+/g, ' ')
    .trim();
  if (plain.length <= LONGEST) return plain;
  const sentence = /^.{40,180}?[.?!](?=\s)/.exec(plain);
  return sentence?.[0] ?? `${plain.slice(0, plain.lastIndexOf(' ', LONGEST))} …`;
}
