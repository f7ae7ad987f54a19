import {
  type CaptureOutcome,
  type CellResult,
  claimTrialsFor,
  documentStudies,
  type DocumentStudiesOptions,
  formulasFor,
  type NotebookDocument,
  parseDocument,
} from '@two-thirds/sim/document';
import type { StudySize } from './protocol.ts';

interface OpenStudy {
  readonly document: NotebookDocument | undefined;
  readonly cell: string;
  readonly tools: DocumentStudiesOptions;
  /** None where the cell is at fault. */
  readonly study: ReturnType<typeof documentStudies>[number]['study'] | undefined;
  readonly jobs: Map<number, unknown>;
}

/** What is wrong with a cell that has no study, computed with the tools it needs. */
type FaultOf = (document: NotebookDocument, cell: string, tools: DocumentStudiesOptions) => CellResult | undefined;

/** What the study of a cell needs: formulas are large, and only claims and sweeps with rules of thumb are made of them. */
async function toolsFor(document: NotebookDocument, cell: string): Promise<DocumentStudiesOptions> {
  const data = document.page.find((each) => (each as { readonly id?: unknown } | null)?.id === cell);
  const { kind, against } = (data ?? {}) as { readonly kind?: unknown; readonly against?: unknown };
  if (kind !== 'claim' && (kind !== 'sweep' || against === undefined)) return { only: [cell] };
  const [formulas, claims] = await Promise.all([formulasFor(document), claimTrialsFor(document)]);
  return { only: [cell], ...(formulas === undefined ? {} : { formulas }), ...(claims === undefined ? {} : { claims }) };
}

/** The studies that are open in a worker, and their jobs. */
export class StudyBench {
  private readonly studies = new Map<number, OpenStudy>();
  private readonly faultOf: FaultOf;

  /** @param faultOf what is wrong with a cell that has no study. */
  constructor(faultOf: FaultOf) {
    this.faultOf = faultOf;
  }

  /**
   * Opens the study of a cell; gives the number of its jobs, or null where the cell is at fault.
   *
   * @param capture what was read from the file of the cell, where it names one.
   */
  async open(number: number, text: string, cell: string, capture?: CaptureOutcome): Promise<StudySize | null> {
    const { document } = parseDocument(text);
    const own: DocumentStudiesOptions = document === undefined ? {} : await toolsFor(document, cell);
    const tools = capture === undefined ? own : { ...own, captures: new Map([[cell, capture]]) };
    const [found] = document === undefined ? [] : documentStudies(document, tools);
    this.studies.set(number, { document, cell, tools, study: found?.study, jobs: new Map() });
    if (found === undefined) return null;
    const { jobCount, first = 0, following = first } = found.study;
    return { count: jobCount, first, following };
  }

  /** Adds what jobs gave elsewhere, which later ones may follow from. */
  give(number: number, added: readonly (readonly [index: number, job: string])[]): void {
    const { study, jobs } = this.known(number);
    for (const [index, job] of added) jobs.set(index, JSON.parse(job));
    study?.given?.(jobs);
  }

  /** Runs one job; what it gives follows from the study and the number of the job alone. */
  run(number: number, index: number): string {
    const job = this.known(number).study?.run(index);
    if (job === undefined) throw new RangeError(`StudyBench: the study must have a job ${index}.`);
    return JSON.stringify(job);
  }

  /** Adds what jobs gave and makes a result of all that was added so far; the fault of a cell that has no study. */
  collect(number: number, added: readonly (readonly [index: number, job: string])[]): CellResult {
    const { document, cell, tools, study, jobs } = this.known(number);
    this.give(number, added);
    if (study !== undefined) return study.collect(jobs);
    const result = document === undefined ? undefined : this.faultOf(document, cell, tools);
    const message = 'The document cannot be used.';
    return result ?? { kind: 'unknown', ok: false, error: { message, where: 'page' } };
  }

  /** Forgets a study. */
  close(number: number): void {
    this.studies.delete(number);
  }

  private known(number: number): OpenStudy {
    const study = this.studies.get(number);
    if (study === undefined) throw new RangeError(`StudyBench: study ${number} must be open.`);
    return study;
  }
}
