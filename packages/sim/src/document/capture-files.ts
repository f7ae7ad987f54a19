import { CaptureReader, type CaptureRequest } from '../capture/capture-reader.ts';
import { checkBoards } from './board-table.ts';
import { captureRequest, isInline } from './capture-request.ts';
import { CheckedPage } from './check-page.ts';
import type { NotebookDocument } from './notebook-document.ts';

/** A file that a capture cell names. */
export interface CaptureFile {
  /** Key of the cell in results. */
  readonly id: string;
  /** As the cell has it. */
  readonly file: string;
  /** How it is to be read, as plain data: a thread that reads it needs no more. */
  readonly request: CaptureRequest;
  /** Takes the text of the file in, in chunks; what it gives at the end is the measurement. */
  readonly reader: CaptureReader;
}

/** The files that the capture cells of a document name, those of faulty cells left out. @param only ids of the cells wanted. */
export function captureFiles(document: NotebookDocument, only?: readonly string[]): CaptureFile[] {
  const table = checkBoards(document);
  return new CheckedPage(document.page, table).cells.flatMap((checked) => {
    if (!checked.ok || checked.cell.kind !== 'capture' || isInline(checked.cell)) return [];
    if (only?.includes(checked.key) === false) return [];
    const board = table.boards.get(checked.cell.board);
    if (board?.ok !== true) return [];
    const request = captureRequest(checked.cell, board);
    return [{ id: checked.key, file: checked.cell.data, request, reader: new CaptureReader(request) }];
  });
}
