import type { Json } from '../edit/json.ts';

/**
 * The part of the File System Access API (a WICG draft) that is used here and that TypeScript's own types lack. Where a
 * browser has it, a page can be saved to the file it came from; elsewhere files are chosen and downloaded.
 */
interface Pickers {
  readonly showOpenFilePicker?: (options: object) => Promise<FileSystemFileHandle[]>;
  readonly showSaveFilePicker?: (options: object) => Promise<FileSystemFileHandle>;
}

interface Permitted {
  requestPermission?(options: { mode: 'readwrite' }): Promise<PermissionState>;
}

/** A file that was chosen, with the way back to it where the browser gives one. */
export interface ChosenFile {
  readonly file: File;
  readonly handle?: FileSystemFileHandle;
}

const types = [{ description: 'A page of Two Thirds', accept: { 'application/json': ['.json'] } }];

/** Lets somebody choose a file; `undefined` if none was chosen, `'by hand'` where the browser has no such dialogue. */
export async function pickFile(): Promise<ChosenFile | undefined | 'by hand'> {
  const { showOpenFilePicker } = window as Pickers;
  if (showOpenFilePicker === undefined) return 'by hand';
  try {
    const [handle] = await showOpenFilePicker.call(window, { types });
    return handle === undefined ? undefined : { file: await handle.getFile(), handle };
  } catch (error) {
    if (isChangeOfMind(error)) return undefined;
    return 'by hand';
  }
}

/**
 * Saves a document as a file of a name that somebody chooses, or as a download.
 *
 * @returns the file it was written to, if the page can write to it again; `undefined` if nobody chose one.
 */
export async function saveAs(document: Json, title: string): Promise<FileSystemFileHandle | 'download' | undefined> {
  const { showSaveFilePicker } = window as Pickers;
  const name = `${fileName(title)}.tt.json`;
  if (showSaveFilePicker === undefined) {
    downloadDocument(document, name);
    return 'download';
  }
  try {
    const handle = await showSaveFilePicker.call(window, { suggestedName: name, types });
    await writeTo(handle, document);
    return handle;
  } catch (error) {
    if (isChangeOfMind(error)) return undefined;
    downloadDocument(document, name);
    return 'download';
  }
}

/** A file that was handed to the browser to be kept. */
export interface SavedPage {
  readonly file: string;
  readonly bytes: number;
}

/** Saves a page of one file as a download, named after its title. */
export function savePage(html: string, title: string): SavedPage {
  const blob = new Blob([html], { type: 'text/html' });
  const file = `${fileName(title)}.html`;
  download(blob, file);
  return { file, bytes: blob.size };
}

/**
 * Saves a document to the file it was opened from or saved to before.
 *
 * @throws where the file cannot be written any more.
 */
export async function saveTo(handle: FileSystemFileHandle, document: Json): Promise<void> {
  const permitted = handle as Permitted;
  const state = await permitted.requestPermission?.({ mode: 'readwrite' });
  if (state === 'denied') throw new Error('writing to it was not permitted');
  await writeTo(handle, document);
}

/** A document as the text of its file. */
function fileText(document: Json): string {
  return `${JSON.stringify(document, undefined, 2)}\n`;
}

async function writeTo(handle: FileSystemFileHandle, document: Json): Promise<void> {
  // The browser writes beside the file and puts it in place on close: a failure leaves the old file whole.
  const stream = await handle.createWritable();
  await stream.write(fileText(document));
  await stream.close();
}

function downloadDocument(document: Json, name: string): void {
  download(new Blob([fileText(document)], { type: 'application/json' }), name);
}

function download(content: Blob, name: string): void {
  const link = window.document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

function isChangeOfMind(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'AbortError';
}

function fileName(title: string): string {
  const plain = title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
  return plain === '' ? 'page' : plain;
}
