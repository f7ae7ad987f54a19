import { cellSvg } from '../chart/index.ts';
import {
  cellCsv,
  type CellResult,
  claimTrialsFor,
  computeDocument,
  documentStudies,
  type DocumentResults,
  type Issue,
  loadDocument,
  type NotebookDocument,
} from '../document/index.ts';
import type { ComputeCommand } from './command-line.ts';
import { claimMessages } from './claim-text.ts';
import { jobsText, readJobs } from './job-files.ts';
import { openFile } from './open-file.ts';
import { readCaptures } from './read-captures.ts';
import type { Output } from './output.ts';
import { pageText } from './page-text.ts';
import type { StopFlag } from './stop-flag.ts';
import { runStudyJobs } from './study-jobs.ts';
import { unusableFile } from './unusable.ts';
import { writeFiles } from './write-files.ts';

/** Where a page is computed, and how long it may take there. */
export interface Place {
  readonly stop: StopFlag;
  /** Threads beside this one that help to run studies; undefined for as many as are worth their start. */
  readonly helpers: number | undefined;
  /** Longest time for a page without studies (ms); a page with studies is not for here, if it is given. */
  readonly soon?: number | undefined;
}

/**
 * Computes a document and prints it; what is computed by the time the flag is set, if that is early.
 *
 * @returns the exit status; undefined, with nothing printed, if this is not the place for it.
 */
export async function computePage(
  command: ComputeCommand,
  output: Output,
  { stop, helpers, soon = Infinity }: Place,
): Promise<number | undefined> {
  const { file, json, csv, svg, only, shard, merge = [], captures: given = new Map<string, string>() } = command;
  const opened = await openFile(file);
  if (!opened.ok) return unusableFile(opened.unusable, json, output);
  const parsed = await loadDocument(opened.text);
  const { document, unusable, formulas, checks } = parsed;
  if (unusable !== undefined || document === undefined) return unusableFile(unusable, json, output, file);
  const missing = only === undefined ? undefined : missingCell(only, document);
  if (missing !== undefined) return unusableFile(missing, json, output);
  const claims = await claimTrialsFor(document);
  const captures = await readCaptures(document, file, { only, given });
  const chosen = {
    captures,
    ...(only === undefined ? {} : { only }),
    ...(formulas === undefined ? {} : { formulas }),
    ...(claims === undefined ? {} : { claims }),
    ...(checks === undefined ? {} : { checks }),
  };
  const studies = documentStudies(document, chosen);
  if (studies.length > 0 && soon < Infinity) return undefined;
  const { text } = opened;
  // Jobs of another measurement are not those of this page.
  const whole = captures.size === 0 ? text : text + JSON.stringify([...captures]);
  const read = await readJobs(merge, whole);
  if ('unusable' in read) return unusableFile(read.unusable, json, output);
  const jobs = await runStudyJobs(studies, {
    ...{ text, only, captures, helpers, shard, stop },
    known: read.jobs,
    onProgress: output.progress,
  });
  if (studies.length > 0) output.progress?.(1);
  if (shard !== undefined) {
    output.out(jobsText(whole, jobs));
    if (stop.aborted) output.message('compute: stopped; the jobs that were done are kept.');
    return stop.aborted ? 1 : 0;
  }
  const time = new TimeLimit(stop, soon);
  // With studies, what is left is over in a moment.
  const onProgress = studies.length > 0 ? undefined : output.progress;
  const computed = computeDocument(document, {
    ...chosen,
    jobs,
    signal: time,
    ...(onProgress === undefined ? {} : { onProgress }),
  });
  if (time.isOver) return undefined;
  const inCells = new Set(Object.entries(computed.results).flatMap(messagesOf));
  // Faults of boards and links that no cell looks at; of no concern when only some cells were asked for.
  const elsewhere =
    only === undefined ? parsed.issues.filter((issue) => isFault(issue) && !inCells.has(issue.message)) : [];
  const messages = [...inCells, ...elsewhere.map(({ message }) => message)];
  output.out(json ? resultsJson(computed, elsewhere) : pageText(document, computed));
  const cells = Object.entries(computed.results);
  const asked = [
    ...(csv === undefined ? [] : [{ option: '--csv', folder: csv, files: csvFiles(cells) } as const]),
    ...(svg === undefined ? [] : [{ option: '--svg', folder: svg, files: svgFiles(cells) } as const]),
  ];
  for (const { option, folder, files } of asked) {
    const written = await writeFiles(option, folder, files);
    if ('message' in written) messages.push(written.message);
    else if (!json) output.out(`\nWritten: ${written.files.join(', ') || 'nothing'}\n`);
  }
  for (const message of messages) output.message(message);
  return messages.length === 0 ? 0 : 1;
}

/** Ends work when it is to stop, or has taken too long. */
class TimeLimit {
  readonly #begun = performance.now();
  /** Whether it has taken too long. */
  isOver = false;

  constructor(
    private readonly stop: StopFlag,
    private readonly longest: number,
  ) {}

  get aborted(): boolean {
    this.isOver ||= performance.now() - this.#begun > this.longest;
    return this.isOver || this.stop.aborted;
  }
}

/** The tables of all cells. */
function csvFiles(cells: readonly (readonly [string, CellResult])[]): { name: string; text: string }[] {
  return cells.flatMap(([id, result]) => cellCsv(id, result));
}

/** The charts of all cells that have one. */
function svgFiles(cells: readonly (readonly [string, CellResult])[]): { name: string; text: string }[] {
  return cells.flatMap(([id, result]) => {
    const text = cellSvg(result);
    return text === undefined ? [] : [{ name: `${id}.svg`, text }];
  });
}

/** One JSON object, one line a cell; `issues` only where a fault is in no cell that was computed. */
function resultsJson({ results }: DocumentResults, elsewhere: readonly Issue[]): string {
  const cells = Object.entries(results).map(([id, result]) => `${JSON.stringify(id)}: ${JSON.stringify(result)}`);
  const issues = elsewhere.map(({ message, where }) => JSON.stringify({ message, where }));
  const rest = issues.length === 0 ? '' : `,\n"issues": [\n${issues.join(',\n')}\n]`;
  return `{ "results": {${cells.length === 0 ? '' : `\n${cells.join(',\n')}\n`}}${rest} }\n`;
}

/** The messages of a cell that could not be computed, or of a claim that fails. */
function messagesOf([id, result]: [string, CellResult]): string[] {
  if (result.ok) return result.kind === 'claim' ? claimMessages(id, result) : [];
  return result.issues === undefined
    ? [result.error.message]
    : result.issues.filter(isFault).map(({ message }) => message);
}

function isFault({ severity }: Issue): boolean {
  return severity === 'fault';
}

function missingCell(only: readonly string[], { page }: NotebookDocument): Issue | undefined {
  const ids = page.flatMap((cell) => {
    const { id } = (cell ?? {}) as { id?: unknown };
    return typeof id === 'string' ? [id] : [];
  });
  const missing = only.find((id) => !ids.includes(id));
  if (missing === undefined) return undefined;
  const message = `compute: --only must name cells of the page (${ids.join(', ')}); got ${JSON.stringify(missing)}. Correct the name.`;
  return { code: 'unknown-cell', severity: 'fault', where: 'command line', message };
}
