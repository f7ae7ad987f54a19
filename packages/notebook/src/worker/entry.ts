// With the jobs of study-bench.ts the only file of the notebook that runs simulations.
import { cellKey, computeDocument, formulasFor, type NotebookDocument, parseDocument } from '@two-thirds/sim/document';
import { expose, type Remote } from 'comlink';
import type { CaptureWorker, Job, RunListener, StudyWorker } from './protocol.ts';
import { readCaptureFile } from './read-capture-file.ts';
import { StudyBench } from './study-bench.ts';

/** Time between two reports of progress (ms). */
const PROGRESS_PAUSE = 100;

let listener: Remote<RunListener> | undefined;
const cancelled = new Set<number>();
const bench = new StudyBench((document, cell, tools) => computeDocument(document, tools).results[cell]);

async function compute(run: number, job: Job): Promise<void> {
  const { document, unusable } = parseDocument(job.text);
  if (document === undefined) {
    await listener?.refused(run, unusable?.message ?? 'The document cannot be used.');
    return;
  }
  // Large, so only a document with formulas loads it; from then on it is there at once.
  const formulas = await formulasFor(document);
  const jobs = withoutJobs(document);
  const ids = idsByKey(document);
  const heard: unknown[] = [];
  for (const batch of job.batches) {
    // A pause between batches lets a cancel message in.
    await nextTask();
    if (cancelled.delete(run)) break;
    const onProgress = sparingly((share) => {
      for (const id of batch) void listener?.progress(run, id, share);
    });
    const { columns, instants = [] } = job;
    const only = [...ids].flatMap(([key, id]) => (batch.includes(id) ? [key] : []));
    const { results } = computeDocument(document, { only, columns, instants, onProgress, formulas, jobs });
    for (const [key, result] of Object.entries(results)) heard.push(listener?.result(run, ids.get(key) ?? key, result));
  }
  // Results and the end of the run travel on different ports: the end must not overtake the last result.
  await Promise.all(heard);
}

/** The ids of cells as they stand in the document by the keys of their results: an id that cannot be used is no key. */
function idsByKey({ page }: NotebookDocument): ReadonlyMap<string, string> {
  return new Map(
    page.map((data, index) => {
      const key = cellKey(data, index);
      const { id } = typeof data === 'object' && data !== null ? (data as { readonly id?: unknown }) : {};
      return [key, typeof id === 'string' ? id : key];
    }),
  );
}

/** Studies are computed elsewhere: where a note quotes one, none of its jobs is run here. */
function withoutJobs({ page }: NotebookDocument): ReadonlyMap<string, ReadonlyMap<number, unknown>> {
  return new Map(page.map((cell, index) => [cellKey(cell, index), new Map<number, unknown>()]));
}

/** Passes on only so many reports that a page can draw each of them: a run makes thousands in a second. */
function sparingly(report: (share: number) => void): (share: number) => void {
  let next = performance.now() + PROGRESS_PAUSE;
  return (share) => {
    const now = performance.now();
    if (now < next) return;
    next = now + PROGRESS_PAUSE;
    report(share);
  };
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
  openStudy: (...[study, text, cell, capture]: Parameters<StudyWorker['openStudy']>) =>
    bench.open(study, text, cell, capture),
  runJob: (study: number, index: number) => bench.run(study, index),
  collectJobs: (study: number, jobs: readonly (readonly [number, string])[]) => bench.collect(study, jobs),
  closeStudy: (study: number) => bench.close(study),
  readCapture: (...[file, request, report]: Parameters<CaptureWorker['readCapture']>) =>
    readCaptureFile(file, request, sparingly(report)),
});
