import {
  type CellResult,
  claimTrialsFor,
  documentStudies,
  type DocumentStudiesOptions,
  formulasFor,
  type NotebookDocument,
  parseDocument,
} from '@two-thirds/sim/document';

interface OpenStudy {
  readonly document: NotebookDocument | undefined;
  readonly cell: string;
  /** None where the cell is at fault. */
  readonly study: ReturnType<typeof documentStudies>[number]['study'] | undefined;
  readonly jobs: Map<number, unknown>;
}

/** What is wrong with a cell that has no study, computed with the tools it needs. */
type FaultOf = (document: NotebookDocument, cell: string, tools: DocumentStudiesOptions) => CellResult | undefined;

/** What the study of a cell needs: formulas are large, and only claims are made of them. */
async function toolsFor(document: NotebookDocument, cell: string): Promise<DocumentStudiesOptions> {
  const data = document.page.find((each) => (each as { readonly id?: unknown } | null)?.id === cell);
  if ((data as { readonly kind?: unknown } | undefined)?.kind !== 'claim') return { only: [cell] };
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

  /** Opens the study of a cell; gives the number of its jobs, or null where the cell is at fault. */
  async open(number: number, text: string, cell: string): Promise<number | null> {
    const { document } = parseDocument(text);
    const [found] = document === undefined ? [] : documentStudies(document, await toolsFor(document, cell));
    this.studies.set(number, { document, cell, study: found?.study, jobs: new Map() });
    return found?.study.jobCount ?? null;
  }

  /** Runs one job; what it gives follows from the study and the number of the job alone. */
  run(number: number, index: number): string {
    const job = this.known(number).study?.run(index);
    if (job === undefined) throw new RangeError(`StudyBench: the study must have a job ${index}.`);
    return JSON.stringify(job);
  }

  /** Adds what jobs gave and makes a result of all that was added so far; the fault of a cell that has no study. */
  async collect(number: number, added: readonly (readonly [index: number, job: string])[]): Promise<CellResult> {
    const { document, cell, study, jobs } = this.known(number);
    for (const [index, job] of added) jobs.set(index, JSON.parse(job));
    if (study !== undefined) return study.collect(jobs);
    const result = document === undefined ? undefined : this.faultOf(document, cell, await toolsFor(document, cell));
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
