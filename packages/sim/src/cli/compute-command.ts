import {
  type CellResult,
  computeDocument,
  type DocumentResults,
  type Issue,
  loadDocument,
  type NotebookDocument,
} from '../document/index.ts';
import type { Command } from './command-line.ts';
import { openFile } from './open-file.ts';
import type { Output } from './output.ts';
import { pageText } from './page-text.ts';
import { unusableFile } from './unusable.ts';
import { writeCsv } from './write-csv.ts';

/** Computes a document and prints it. @returns the exit status. */
export async function computeCommand(command: Command & { name: 'compute' }, output: Output): Promise<number> {
  const { file, json, csv, only } = command;
  const opened = await openFile(file);
  if (!opened.ok) return unusableFile(opened.unusable, json, output);
  const parsed = await loadDocument(opened.text);
  const { document, unusable, formulas } = parsed;
  if (unusable !== undefined || document === undefined) return unusableFile(unusable, json, output, file);
  const missing = only === undefined ? undefined : missingCell(only, document);
  if (missing !== undefined) return unusableFile(missing, json, output);
  const computed = computeDocument(document, {
    ...(only === undefined ? {} : { only }),
    ...(formulas === undefined ? {} : { formulas }),
    ...(output.progress === undefined ? {} : { onProgress: output.progress }),
  });
  const inCells = new Set(Object.values(computed.results).flatMap(messagesOf));
  // Faults of boards and links that no cell looks at; of no concern when only some cells were asked for.
  const elsewhere =
    only === undefined ? parsed.issues.filter((issue) => isFault(issue) && !inCells.has(issue.message)) : [];
  const messages = [...inCells, ...elsewhere.map(({ message }) => message)];
  output.out(json ? resultsJson(computed, elsewhere) : pageText(document, computed));
  if (csv !== undefined) {
    const written = await writeCsv(csv, computed);
    if ('message' in written) messages.push(written.message);
    else if (!json) output.out(`\nWritten: ${written.files.join(', ') || 'nothing'}\n`);
  }
  for (const message of messages) output.message(message);
  return messages.length === 0 ? 0 : 1;
}

/** One JSON object, one line a cell; `issues` only where a fault is in no cell that was computed. */
function resultsJson({ results }: DocumentResults, elsewhere: readonly Issue[]): string {
  const cells = Object.entries(results).map(([id, result]) => `${JSON.stringify(id)}: ${JSON.stringify(result)}`);
  const issues = elsewhere.map(({ message, where }) => JSON.stringify({ message, where }));
  const rest = issues.length === 0 ? '' : `,\n"issues": [\n${issues.join(',\n')}\n]`;
  return `{ "results": {${cells.length === 0 ? '' : `\n${cells.join(',\n')}\n`}}${rest} }\n`;
}

/** The messages of a cell that could not be computed. */
function messagesOf(result: CellResult): string[] {
  if (result.ok) return [];
  return result.issues === undefined
    ? [result.error.message]
    : result.issues.filter(isFault).map(({ message }) => message);
}

function isFault({ severity }: Issue): boolean {
  return severity === 'fault';
}

function missingCell(only: readonly string[], { page }: NotebookDocument): Issue | undefined {
  const ids = page.flatMap((cell) => {
    const { id } = (cell ?? {}) as { id?: unknown };
    return typeof id === 'string' ? [id] : [];
  });
  const missing = only.find((id) => !ids.includes(id));
  if (missing === undefined) return undefined;
  const message = `compute: --only must name cells of the page (${ids.join(', ')}); got ${JSON.stringify(missing)}. Correct the name.`;
  return { code: 'unknown-cell', severity: 'fault', where: 'command line', message };
}
