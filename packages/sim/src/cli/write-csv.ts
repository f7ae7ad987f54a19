import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { cellCsv, type DocumentResults } from '../document/index.ts';

/**
 * Writes the tables of all cells into a folder, which is made if need be.
 *
 * @returns the files written, or the message why one could not be.
 */
export async function writeCsv(
  folder: string,
  { results }: DocumentResults,
): Promise<{ files: string[] } | { message: string }> {
  const files: string[] = [];
  try {
    await makeFolder(folder);
    for (const { name, text } of Object.entries(results).flatMap(([id, result]) => cellCsv(id, result))) {
      const file = join(folder, name);
      await writeFile(file, text);
      files.push(file);
    }
    return { files };
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'an unknown error';
    return {
      message: `compute: --csv must name a folder that can be written; got ${folder} (${code}). Choose another.`,
    };
  }
}

/**
 * Makes a folder and those above it. Node's own `recursive` never returns where a file system answers that a folder which
 * exists has no room for another, as /proc does.
 */
async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    const above = dirname(folder);
    if (code === 'EEXIST') return;
    if (code !== 'ENOENT' || above === folder) throw error;
    await makeFolder(above);
    await mkdir(folder);
  }
}
