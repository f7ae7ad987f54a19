import type { Json } from '../edit/json.ts';
import { cellsOf } from '../runtime/cells.ts';
import { isStudyCell, studySignature } from '../runtime/study-cells.ts';
import type { StudyRequest } from '../worker/study-task.ts';
import type { CaptureFiles } from './capture-files.ts';

/** What is to be computed of the studies among some cells; one whose measurement is still being read comes once it is. */
export function studyRequests(document: Json, ids: readonly string[], captures: CaptureFiles): StudyRequest[] {
  const studies = cellsOf(document).filter((cell) => isStudyCell(cell) && ids.includes(cell.id));
  return studies.flatMap((cell) => {
    const capture = captures.stateOf(document, cell);
    if (capture.what === 'reading') return [];
    const signature = studySignature(document, cell) + capture.key;
    return [{ id: cell.id, signature, capture: capture.outcome }];
  });
}
