import { type Part, REFERENCE, type TerminalPairs } from './description.ts';
import { GROUND } from './names.ts';

/** The nets that a part's terminal pairs lie on. A pair with a terminal that was left open is not among them. */
export function netPairs(part: Part, pairs: TerminalPairs): [string, string][] {
  const found: [string, string][] = [];
  for (const [a, b] of pairs) {
    const first = netOf(part, a);
    const second = netOf(part, b);
    if (first !== undefined && second !== undefined) found.push([first, second]);
  }
  return found;
}

function netOf(part: Part, terminal: string): string | undefined {
  return terminal === REFERENCE ? GROUND : part.nets[terminal];
}
