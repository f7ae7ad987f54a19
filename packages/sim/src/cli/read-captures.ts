import { createReadStream } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import { dirname, isAbsolute, relative, resolve, sep } from 'node:path';
import { type CaptureFile, captureFiles, type CaptureOutcome, type NotebookDocument } from '../document/index.ts';

/** Longest file that is read: reading it takes a minute or two. */
const LONGEST_CAPTURE = 4e9;

/** What reading the measurements of a document may be told. */
export interface CaptureOptions {
  /** Ids of the cells wanted, all if not given. */
  readonly only: readonly string[] | undefined;
  /** Files by cell that the person named, wherever they lie. */
  readonly given: ReadonlyMap<string, string>;
}

/**
 * Reads the measurements that the capture cells of a document name, in constant memory. A name in a document only leads into
 * the document's own folder and those below, links followed; what the person names on the command line may lie anywhere.
 *
 * @param path of the document.
 */
export async function readCaptures(
  document: NotebookDocument,
  path: string,
  { only, given }: CaptureOptions,
): Promise<ReadonlyMap<string, CaptureOutcome>> {
  const outcomes = new Map<string, CaptureOutcome>();
  for (const file of captureFiles(document, only)) {
    const named = given.get(file.id);
    outcomes.set(file.id, named === undefined ? await readBeside(file, path) : await readFrom(file, named));
  }
  return outcomes;
}

async function readBeside(file: CaptureFile, path: string): Promise<CaptureOutcome> {
  const advice = `Move the file there, or name it on the command line: --capture ${file.id}=FILE.`;
  const rule = 'name a file in the folder of the document or below it';
  if (isAbsolute(file.file)) return refuse(rule, 'a path of its own', advice);
  try {
    const folder = await realpath(dirname(path));
    const found = await realpath(resolve(folder, file.file));
    const inside = relative(folder, found);
    if (inside === '..' || inside.startsWith(`..${sep}`) || isAbsolute(inside)) {
      return refuse(rule, 'a path that leads out of it', advice);
    }
    return await readFrom(file, found);
  } catch (error) {
    return unreadable(file, error);
  }
}

async function readFrom({ file, reader }: CaptureFile, path: string): Promise<CaptureOutcome> {
  try {
    const found = await stat(path);
    const got = found.isDirectory() ? 'a folder' : 'something else';
    // Nothing but a regular file is opened, so that reading always ends.
    if (!found.isFile()) return refuse('name a file', got, 'Give the path of a CSV file.');
    if (found.size > LONGEST_CAPTURE) {
      const size = `${(found.size / 1e9).toFixed(1)} GB`;
      return refuse(`be at most ${LONGEST_CAPTURE / 1e9} GB long`, size, 'Export a shorter stretch, or fewer samples.');
    }
    for await (const chunk of createReadStream(path, { encoding: 'utf8' })) reader.push(chunk as string);
    return reader.end();
  } catch (error) {
    return unreadable({ file }, error);
  }
}

function unreadable({ file }: Pick<CaptureFile, 'file'>, error: unknown): CaptureOutcome {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'an unknown error';
  const got = code === 'ENOENT' || code === 'ENOTDIR' ? 'no file of that name' : code;
  return refuse(`name a file that can be read (${JSON.stringify(file.slice(0, 80))})`, got, 'Check the name.');
}

function refuse(rule: string, got: string, advice: string): CaptureOutcome {
  return { ok: false, fault: { field: 'data', rule, got, advice } };
}
