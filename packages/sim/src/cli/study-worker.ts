/** A thread that runs jobs of a document's studies: it reads the document once, then answers orders with their jobs. */
import { parentPort, workerData } from 'node:worker_threads';
import { type Captures, claimTrialsFor, documentStudies, loadDocument } from '../document/index.ts';

/** A job to run. */
export interface JobOrder {
  /** Key of the cell. */
  readonly id: string;
  readonly index: number;
}

/** What the first jobs of a study gave, for a thread that is to run later ones. */
export interface GivenJobs {
  readonly id: string;
  readonly given: ReadonlyMap<number, unknown>;
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
parentPort?.on('message', (message: readonly JobOrder[] | GivenJobs) => {
  if ('given' in message) {
    studies.get(message.id)?.given?.(message.given);
    return;
  }
  const answers = message.map(({ id, index }): JobAnswer => ({ id, index, job: studies.get(id)?.run(index) }));
  parentPort?.postMessage(answers);
});
