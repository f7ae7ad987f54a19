import { readFile, stat } from 'node:fs/promises';
import { fault, LONGEST_DOCUMENT, type Issue } from '../document/index.ts';

/** The text of a file, or why it cannot be read. */
export type OpenedFile =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly unusable: Issue };

/** Reads a file as UTF-8 text. Nothing but a regular file of reasonable size is opened, so that reading always ends. */
export async function openFile(path: string): Promise<OpenedFile> {
  const refuse = (code: string, rule: string, got: string, advice: string): OpenedFile => {
    return { ok: false, unusable: fault(code, path, { rule, got, advice }) };
  };
  try {
    const { size, ...file } = await statOf(path);
    if (!file.isFile)
      return refuse(
        'unreadable',
        'be a file',
        file.isDirectory ? 'a folder' : 'something else',
        'Give the path of a document (*.tt.json).',
      );
    if (size > LONGEST_DOCUMENT) {
      const rule = `be at most ${LONGEST_DOCUMENT / 1e6} MB long`;
      return refuse('too-long', rule, `${(size / 1e6).toFixed(1)} MB`, 'Divide the document into several.');
    }
    const bytes = await readFile(path);
    return { ok: true, text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch (error) {
    if (error instanceof TypeError) {
      return refuse('not-text', 'be text in UTF-8', 'other bytes', 'Save it again as UTF-8 in your editor.');
    }
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    return refuse(
      'unreadable',
      'be a file that can be read',
      reasons.get(code) ?? (code || 'an unknown error'),
      'Check the path.',
    );
  }
}

const reasons = new Map([
  ['ENOENT', 'no file of that name'],
  ['ENOTDIR', 'no file of that name'],
  ['EACCES', 'no permission to read it'],
  ['EPERM', 'no permission to read it'],
  ['ENAMETOOLONG', 'too long a name'],
  ['ELOOP', 'a circle of links'],
]);

async function statOf(path: string): Promise<{ size: number; isFile: boolean; isDirectory: boolean }> {
  const file = await stat(path);
  return { size: file.size, isFile: file.isFile(), isDirectory: file.isDirectory() };
}
