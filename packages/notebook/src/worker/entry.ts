import { type CellResult, computeCell, type NotebookDocument, parseDocument } from '@two-thirds/sim/document';
import { expose, type Remote } from 'comlink';
import type { Job, RunListener } from './protocol.ts';

/** The only file of the notebook that runs simulations. */
let listener: Remote<RunListener> | undefined;
const cancelled = new Set<number>();

async function compute(run: number, job: Job): Promise<void> {
  const { document, unusable } = parseDocument(job.text);
  if (document === undefined) {
    await listener?.refused(run, unusable?.message ?? 'The document cannot be used.');
    return;
  }
  const heard: unknown[] = [];
  for (const id of job.ids) {
    // A pause between cells lets a cancel message in.
    await nextTask();
    if (cancelled.delete(run)) break;
    heard.push(listener?.result(run, id, computeOne(document, id, run, job.columns)));
  }
  // Results and the end of the run travel on different ports: the end must not overtake the last result.
  await Promise.all(heard);
}

/** A defect in the simulator must not take the other cells down with it. */
function computeOne(document: NotebookDocument, id: string, run: number, columns: number): CellResult {
  try {
    return computeCell(document, id, { columns, onProgress: (share) => void listener?.progress(run, id, share) });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return { kind: '', ok: false, error: { message, where: `page.${id}` } };
  }
}

function nextTask(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve));
}

expose({
  connect(remote: Remote<RunListener>): void {
    listener = remote;
  },
  compute,
  cancel(run: number): void {
    cancelled.add(run);
  },
});
