import { nearestName } from '../core/nearest-name.ts';

/** Names listed in a message; more would hide the message. */
const MOST_LISTED = 30;
/** Among more names than this none is suggested: comparing takes time, and a file may hold many thousands of faults. */
const MOST_COMPARED = 200;

/** Names for a message, separated by commas, the first {@link MOST_LISTED} of them. */
export function listedNames(names: readonly string[]): string {
  const rest = names.length - MOST_LISTED;
  return rest > 0 ? `${names.slice(0, MOST_LISTED).join(', ')} and ${rest} more` : names.join(', ');
}

/** What to do about an unknown name: the one that was probably meant, or the advice given. */
export function nameAdvice(word: string, names: readonly string[], advice: string): string {
  const near = names.length > MOST_COMPARED ? undefined : nearestName(word, names);
  return near === undefined ? advice : `Did you mean ${near}?`;
}
