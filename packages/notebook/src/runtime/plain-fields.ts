import type { PageCell } from './cells.ts';

/** A field of a cell that is edited as text. */
export interface PlainField {
  readonly name: string;
  /** What it is, in a few words. */
  readonly words: string;
  /** As it stands in the document. */
  readonly text: string;
}

/** The fields that no element of the page shows in its own way, by kind of cell. */
const fieldsOf: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  ask: { question: 'it asks', answer: 'the answer is', within: 'right within' },
};

/** The fields of a cell that are edited as text, because nothing on the page stands for them. */
export function plainFields(cell: PageCell): readonly PlainField[] {
  return Object.entries(fieldsOf[cell.kind] ?? {}).map(([name, words]) => {
    const raw = cell.data[name];
    return { name, words, text: typeof raw === 'string' ? raw : raw === undefined ? '' : JSON.stringify(raw) };
  });
}
