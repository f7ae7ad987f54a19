import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
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
    await mkdir(folder, { recursive: true });
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
