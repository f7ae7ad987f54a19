/** A thread that runs jobs of a document's studies: it reads the document once, then answers every order with its job. */
import { parentPort, workerData } from 'node:worker_threads';
import { type Captures, claimTrialsFor, documentStudies, loadDocument } from '../document/index.ts';

/** A job to run. */
export interface JobOrder {
  /** Key of the cell. */
  readonly id: string;
  readonly index: number;
}

/** A job that was run. */
export interface JobAnswer extends JobOrder {
  /** What it gave; undefined when it was stopped. */
  readonly job: unknown;
}

const { text, only, captures } = workerData as {
  text: string;
  only: readonly string[] | undefined;
  captures: Captures;
};
const { document, formulas } = await loadDocument(text);
const claims = document === undefined ? undefined : await claimTrialsFor(document);
const studies = new Map(
  document === undefined
    ? []
    : documentStudies(document, {
        captures,
        ...(only === undefined ? {} : { only }),
        ...(formulas === undefined ? {} : { formulas }),
        ...(claims === undefined ? {} : { claims }),
      }).map(({ id, study }) => [id, study]),
);
parentPort?.on('message', ({ id, index }: JobOrder) => {
  parentPort?.postMessage({ id, index, job: studies.get(id)?.run(index) } satisfies JobAnswer);
});
