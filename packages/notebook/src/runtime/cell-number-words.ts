import { fieldWords } from '@two-thirds/sim/quantity';
import type { Path } from '../edit/path.ts';

/** What a number of a cell is called. */
export interface CellNumberWords {
  /** Beside the name of its cell: `until`, `R1 from`, `width at most`. */
  readonly title: string;
  /** Beside the field that it stands in, where that holds several numbers: `from`, `to`, `2`. */
  readonly word: string;
}

/** What a number under a name is said to be, by the field that holds the names. */
const UNDER_NAMES: Readonly<Record<string, string>> = { parts: 'within', seen: 'seen' };
/** What entries of lists are called where it is not `value`. */
const ENTRIES: Readonly<Record<string, string>> = { levels: 'line', stock: 'stock' };

/** What a number of a cell is called. @param steps the way to it from its cell, as the document has it. */
export function cellNumberWords(kind: string, [field = '', ...inner]: Path): CellNumberWords {
  const last = inner.at(-1);
  if (last === undefined) return { title: fieldWords(String(field)), word: String(field) };
  // A sweep has one value; a map has to say which of its two.
  const around = [...(field === 'x' || field === 'y' ? [field] : []), ...inner.slice(0, -1)];
  const names = around.filter((step) => step !== 'values');
  const { told, word } =
    typeof last === 'number' ? entryWords(kind, String(field), last) : namedWords(String(field), inner);
  return { title: [...names, told].join(' '), word };
}

function entryWords(kind: string, field: string, index: number): { told: string; word: string } {
  const ends =
    field === 'limits' ? ['at least', 'at most'] : field === 'parts' && kind === 'spread' ? ['from', 'to'] : [];
  const end = ends[index];
  const number = String(index + 1);
  return end === undefined
    ? { told: `${ENTRIES[field] ?? 'value'} ${number}`, word: number }
    : { told: end, word: end };
}

function namedWords(field: string, inner: Path): { told: string; word: string } {
  const word = String(inner.at(-1));
  const about = inner.length === 1 ? UNDER_NAMES[field] : undefined;
  if (about !== undefined) return { told: `${word} ${about}`, word };
  return { told: field === 'want' && word === 'value' ? 'wanted' : word, word };
}
