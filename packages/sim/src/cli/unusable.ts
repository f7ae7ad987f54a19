import type { Issue } from '../document/index.ts';
import type { Output } from './output.ts';

/** Exit status when the file or the command line cannot be used at all. */
const UNUSABLE = 2;

/**
 * Says why nothing could be done, on stderr, and as JSON where that was asked for.
 *
 * @param file put before the message where it speaks of a place inside a file.
 * @returns the exit status.
 */
export function unusableFile(
  issue: Pick<Issue, 'message' | 'where'> | undefined,
  json: boolean,
  output: Output,
  file?: string,
): number {
  const { message = 'the document cannot be used', where = '' } = issue ?? {};
  if (json) output.out(`${JSON.stringify({ error: { message, where } })}\n`);
  output.message(file === undefined ? message : `${file}: ${message}`);
  return UNUSABLE;
}
