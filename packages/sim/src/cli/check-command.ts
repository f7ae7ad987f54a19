import { type Issue, loadDocument, type NotebookDocument } from '../document/index.ts';
import { openFile } from './open-file.ts';
import type { Output } from './output.ts';
import { unusableFile } from './unusable.ts';

/** Reads a document and reports what is wrong with it, without computing. @returns the exit status. */
export async function checkCommand(file: string, output: Output): Promise<number> {
  const opened = await openFile(file);
  if (!opened.ok) return unusableFile(opened.unusable, false, output);
  const { document, issues, unusable } = await loadDocument(opened.text);
  if (unusable !== undefined || document === undefined) return unusableFile(unusable, false, output, file);
  const faults = messages(issues, 'fault');
  const warnings = messages(issues, 'warning');
  output.out(`${summary(document)}: ${count(faults.length, 'fault')}, ${count(warnings.length, 'warning')}\n`);
  for (const warning of warnings) output.out(`worth a look: ${warning}\n`);
  for (const fault of faults) output.message(fault);
  return faults.length === 0 ? 0 : 1;
}

function messages(issues: readonly Issue[], severity: Issue['severity']): string[] {
  return [...new Set(issues.filter((issue) => issue.severity === severity).map((issue) => issue.message))];
}

function summary({ title, boards, page }: NotebookDocument): string {
  return `${title ?? 'Untitled page'}, ${count(Object.keys(boards).length, 'board')}, ${count(page.length, 'cell')}`;
}

function count(number: number, what: string): string {
  return `${number === 0 ? 'no' : number} ${number === 1 ? what : `${what}s`}`;
}
