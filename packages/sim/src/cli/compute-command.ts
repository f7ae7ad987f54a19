import {
  type CellResult,
  computeDocument,
  type DocumentResults,
  type Issue,
  type NotebookDocument,
  type ParsedDocument,
  parseDocument,
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
  const parsed = parseDocument(opened.text);
  const { document, unusable } = parsed;
  if (unusable !== undefined || document === undefined) return unusableFile(unusable, json, output, file);
  const missing = only === undefined ? undefined : missingCell(only, document);
  if (missing !== undefined) return unusableFile(missing, json, output);
  const computed = computeDocument(document, only === undefined ? {} : { only });
  const messages = faultMessages(computed, only === undefined ? parsed : { issues: [] });
  output.out(json ? resultsJson(computed) : pageText(document, computed));
  if (csv !== undefined) {
    const written = await writeCsv(csv, computed);
    if ('message' in written) messages.push(written.message);
    else if (!json) output.out(`\nWritten: ${written.files.join(', ') || 'nothing'}\n`);
  }
  for (const message of messages) output.message(message);
  return messages.length === 0 ? 0 : 1;
}

/** One JSON object, one line a cell. */
function resultsJson({ results }: DocumentResults): string {
  const cells = Object.entries(results).map(([id, result]) => `${JSON.stringify(id)}: ${JSON.stringify(result)}`);
  return cells.length === 0 ? '{ "results": {} }\n' : `{ "results": {\n${cells.join(',\n')}\n} }\n`;
}

/** Every fault once: those found in cells, and those in boards and links that no cell looks at. */
function faultMessages({ results }: DocumentResults, { issues }: Pick<ParsedDocument, 'issues'>): string[] {
  const faults = (list: readonly Issue[]): string[] => {
    return list.filter((issue) => issue.severity === 'fault').map((issue) => issue.message);
  };
  const ofCell = (result: CellResult): string[] => {
    if (result.ok) return [];
    return result.issues === undefined ? [result.error.message] : faults(result.issues);
  };
  return [...new Set([...Object.values(results).flatMap(ofCell), ...faults(issues)])];
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
