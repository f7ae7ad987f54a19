// With the jobs of study-bench.ts the only file of the notebook that runs simulations.
import { cellKey, computeDocument, DocumentSession, type NotebookDocument } from '@two-thirds/sim/document';
import { expose, type Remote, transfer } from 'comlink';
import { memoryOf, packedResult } from './packed-result.ts';
import type { CaptureWorker, Job, SentListener, StudyWorker } from './protocol.ts';
import { readCaptureFile } from './read-capture-file.ts';
import { StudyBench } from './study-bench.ts';

/** Time between two reports of progress (ms). */
const PROGRESS_PAUSE = 100;

let listener: Remote<SentListener> | undefined;
const cancelled = new Set<number>();
const session = new DocumentSession();
const bench = new StudyBench((document, cell, tools) => computeDocument(document, tools).results[cell]);

async function compute(run: number, job: Job): Promise<void> {
  const { document, unusable } = await session.read(job.text);
  if (document === undefined) {
    await listener?.refused(run, unusable?.message ?? 'The document cannot be used.');
    return;
  }
  let atWork: readonly string[] = [];
  const onProgress = sparingly((share) => {
    for (const id of atWork) void listener?.progress(run, id, share);
  });
  const { columns, instants = [] } = job;
  const computation = session.begin({ columns, instants, sentences: false, onProgress, jobs: withoutJobs(document) });
  const ids = [...idsByKey(document)];
  const heard: unknown[] = [];
  for (const [index, batch] of job.batches.entries()) {
    // A pause between batches lets a cancel message in.
    if (index > 0) await nextTask();
    if (cancelled.delete(run)) break;
    atWork = batch;
    const wanted = new Map(ids.filter(([, id]) => batch.includes(id)));
    const results = computation.compute([...wanted.keys()]);
    const packed = [...results].map(([key, result]) => [wanted.get(key) ?? key, packedResult(result)] as const);
    const memory = packed.flatMap(([, result]) => memoryOf(result));
    heard.push(listener?.results(run, transfer(packed, memory)));
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

/** The next turn of the worker: whatever was sent to it before is heard first. A timer would wait some milliseconds. */
function nextTask(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(undefined);
  });
}

expose({
  connect(remote: Remote<SentListener>): void {
    listener = remote;
  },
  compute,
  cancel(run: number): void {
    cancelled.add(run);
  },
  openStudy: (...[study, text, cell, capture]: Parameters<StudyWorker['openStudy']>) =>
    bench.open(study, text, cell, capture),
  runJob: (study: number, index: number) => bench.run(study, index),
  giveJobs: (study: number, jobs: readonly (readonly [number, string])[]) => bench.give(study, jobs),
  collectJobs: (study: number, jobs: readonly (readonly [number, string])[]) => bench.collect(study, jobs),
  closeStudy: (study: number) => bench.close(study),
  readCapture: (...[file, request, report]: Parameters<CaptureWorker['readCapture']>) =>
    readCaptureFile(file, request, sparingly(report)),
});
