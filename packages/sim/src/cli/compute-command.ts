import { readFile, stat } from 'node:fs/promises';
import { extname } from 'node:path';
import { Worker } from 'node:worker_threads';
import { studyKinds } from '../document/index.ts';
import type { ComputeCommand } from './command-line.ts';
import type { ComputingAnswer, ComputingOrder } from './computing-thread.ts';
import type { Output } from './output.ts';
import { StopFlag } from './stop-flag.ts';

/** What is computed within this time (ms) is not worth a thread of its own. */
const SOON = 300;

/** A file longer than this (bytes) is not looked at before it is read. */
const LONGEST_LOOK = 1e6;

/**
 * Computes a document and prints it, where it takes long in a thread of its own, so that an interrupt (Ctrl-C) is heard in
 * the middle of a run: it ends the work early, and what is computed by then is printed. A second one ends the program.
 *
 * A page with studies goes to its thread at once, and nothing that computes is loaded here. Sources that are not built
 * have no file for a thread: there everything is computed here, as it is with no thread to be used.
 *
 * @returns the exit status.
 */
export async function computeCommand(command: ComputeCommand, output: Output): Promise<number> {
  const stop = new StopFlag();
  const interrupt = (): void => stop.stop();
  process.once('SIGINT', interrupt);
  try {
    const isAlone = extname(import.meta.url) !== '.js' || command.workers === 0;
    if (isAlone || !(await speaksOfStudies(command.file))) {
      // Loaded only now: a thread loads it for itself.
      const { computePage } = await import('./compute-page.ts');
      const status = await computePage(command, output, { stop, helpers: 0, soon: isAlone ? undefined : SOON });
      if (status !== undefined) return status;
    }
    return await inThread(command, output, stop);
  } finally {
    process.off('SIGINT', interrupt);
  }
}

async function inThread(command: ComputeCommand, output: Output, { memory }: StopFlag): Promise<number> {
  const order: ComputingOrder = { command, stop: memory, tells: output.progress !== undefined };
  const thread = new Worker(new URL('./computing-thread.js', import.meta.url), { workerData: order });
  try {
    return await new Promise((resolve, reject) => {
      thread.on('error', reject);
      thread.on('message', (answer: ComputingAnswer) => {
        if ('out' in answer) output.out(answer.out);
        else if ('message' in answer) output.message(answer.message);
        else if ('share' in answer) output.progress?.(answer.share);
        else resolve(answer.status);
      });
    });
  } finally {
    void thread.terminate();
  }
}

/** Whether the text of a file looks as if the page had cells of many runs; wrong guesses cost a moment, nothing else. */
async function speaksOfStudies(path: string): Promise<boolean> {
  try {
    const file = await stat(path);
    if (!file.isFile() || file.size > LONGEST_LOOK) return false;
    return new RegExp(`"kind"\\s*:\\s*"(?:${studyKinds.join('|')})"`).test(await readFile(path, 'utf8'));
  } catch {
    return false;
  }
}
