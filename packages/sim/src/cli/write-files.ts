import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/**
 * Writes text files into a folder, which is made if need be.
 *
 * @param option the option that named the folder, for the message.
 * @returns the files written, or the message why one could not be.
 */
export async function writeFiles(
  option: '--csv' | '--svg',
  folder: string,
  files: Iterable<{ readonly name: string; readonly text: string }>,
): Promise<{ files: string[] } | { message: string }> {
  const written: string[] = [];
  try {
    await makeFolder(folder);
    for (const { name, text } of files) {
      const file = join(folder, name);
      await writeFile(file, text);
      written.push(file);
    }
    return { files: written };
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'an unknown error';
    return {
      message: `compute: ${option} must name a folder that can be written; got ${folder} (${code}). Choose another.`,
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
