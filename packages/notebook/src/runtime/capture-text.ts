/** Measurements up to this size stand in the page itself, so that the page is all there is to keep or send (bytes). */
export const INLINE_MOST = 200_000;

/** Whether a field `data` holds the rows of a measurement rather than the name of a file: only rows have line breaks. */
export function holdsRows(data: string): boolean {
  return /[\r\n]/.test(data);
}

/** The rows of a file as they stand in the page: below a comment with the file's name, which readers of CSV pass over. */
export function rowsFrom(file: string, text: string): string {
  return `# ${oneLine(file)}\n${text}`;
}

/** Where a measurement comes from, as far as the field `data` tells: the name of a file; undefined for nothing. */
export function sourceName(data: string): string | undefined {
  if (!holdsRows(data)) return data === '' ? undefined : data;
  return /^#\s*(\S[^\r\n]*)/.exec(data)?.[1];
}

/** Whether a file that was dropped on the page looks like a measurement rather than a page. */
export function isMeasurement({ name, type }: Pick<File, 'name' | 'type'>): boolean {
  return /\.(?:csv|tsv|txt|dat|log)$/i.test(name) || type === 'text/csv' || type === 'text/tab-separated-values';
}

/** The name of a file as a field can hold it. */
export function oneLine(name: string): string {
  return name.replace(/[\r\n]+/g, ' ').trim();
}

/** The encoding of a text file, by the mark that UTF-16 begins with. */
export function encodingOf(begin: Uint8Array): 'utf-8' | 'utf-16le' | 'utf-16be' {
  if (begin[0] === 0xff && begin[1] === 0xfe) return 'utf-16le';
  return begin[0] === 0xfe && begin[1] === 0xff ? 'utf-16be' : 'utf-8';
}
