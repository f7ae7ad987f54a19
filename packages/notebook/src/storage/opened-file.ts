import { parseDocument } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';

/** Largest file that is read (bytes). The library refuses longer documents too. */
const LARGEST_FILE = 5_000_000;

/** A file as a document, or why it is none. Faults inside boards and cells do not count: the page shows them. */
export type OpenedFile = { readonly document: Json } | { readonly complaint: string };

/** Reads a file that somebody chose or dropped. The file itself is never changed by that. */
export async function readFile(file: File): Promise<OpenedFile> {
  if (file.size > LARGEST_FILE) {
    return {
      complaint: `${file.name} must be at most 5 MB; got ${(file.size / 1e6).toFixed(1)} MB. Choose a *.tt.json file.`,
    };
  }
  try {
    return readText(await file.text(), file.name);
  } catch {
    return { complaint: `${file.name} must be a file that can be read; got an error. Choose it once more.` };
  }
}

/** Reads the text of a document; the library says what is wrong with it, and where. */
export function readText(text: string, name: string): OpenedFile {
  const { unusable } = parseDocument(text);
  if (unusable !== undefined) return { complaint: `${name}, ${unusable.message}` };
  return { document: JSON.parse(text.replace(/^\uFEFF/, '')) as Json };
}
