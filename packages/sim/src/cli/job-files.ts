import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { fault, type Issue } from '../document/index.ts';
import type { StudyJobs } from './study-jobs.ts';

/** What the `format` field of a file of jobs holds. */
const FORMAT = 'two-thirds jobs';
const VERSION = 1;

/** Jobs as a file: which document they belong to, and what each gave, by cell and number. */
export function jobsText(text: string, jobs: StudyJobs): string {
  const entries = [...jobs].map(([id, done]) => {
    const rows = [...done].sort(([a], [b]) => a - b).map((row) => JSON.stringify(row));
    return `${JSON.stringify(id)}: [\n${rows.join(',\n')}\n]`;
  });
  const head = JSON.stringify({ format: FORMAT, version: VERSION, document: digest(text) }).slice(0, -1);
  return `${head}, "jobs": {\n${entries.join(',\n')}\n} }\n`;
}

/** Reads files of jobs that belong to a document, or says what is wrong with one. */
export async function readJobs(
  files: readonly string[],
  text: string,
): Promise<{ readonly jobs: StudyJobs } | { readonly unusable: Issue }> {
  const jobs: StudyJobs = new Map();
  for (const file of files) {
    const found = await readFile(file, 'utf8').catch(() => undefined);
    const refuse = (rule: string, got: string, advice: string): { unusable: Issue } => ({
      unusable: fault('unusable-jobs', file, { rule, got, advice }),
    });
    if (found === undefined) {
      return refuse('be a file that can be read', 'none that can', 'Correct its name.');
    }
    const read = jobFileOf(found);
    if (read === undefined) {
      return refuse('be a file of jobs', 'something else', 'Give what compute --shard has printed.');
    }
    if (read.document !== digest(text)) {
      return refuse(
        'belong to this document',
        'jobs of another',
        'Compute its shards again: the document has changed.',
      );
    }
    for (const [id, rows] of Object.entries(read.jobs)) {
      const known = jobs.get(id) ?? new Map<number, unknown>();
      for (const [index, job] of rows) known.set(index, job);
      jobs.set(id, known);
    }
  }
  return { jobs };
}

interface JobFile {
  readonly document: string;
  readonly jobs: Readonly<Record<string, readonly (readonly [index: number, job: unknown])[]>>;
}

function jobFileOf(text: string): JobFile | undefined {
  try {
    const data: unknown = JSON.parse(text);
    return isJobFile(data) ? data : undefined;
  } catch {
    return undefined;
  }
}

function isJobFile(data: unknown): data is JobFile {
  const { format, version, document, jobs } = (data ?? {}) as Record<string, unknown>;
  if (format !== FORMAT || version !== VERSION || typeof document !== 'string') return false;
  if (typeof jobs !== 'object' || jobs === null) return false;
  return Object.values(jobs).every((rows) => Array.isArray(rows) && rows.every(isRow));
}

function isRow(row: unknown): boolean {
  return Array.isArray(row) && row.length === 2 && Number.isSafeInteger(row[0]) && typeof row[1] === 'object';
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
