import type { History } from './history.ts';
import { isStillAsked } from './what-if.ts';
import type { AskedOfBoard } from './what-if-mark.ts';

/** What is asked of the boards of a page now, in the order in which it was: undo takes it back like any other step. */
export function askedOfBoards({ document, past }: Pick<History, 'document' | 'past'>): readonly AskedOfBoard[] {
  let asked: readonly AskedOfBoard[] = [];
  for (const { whatIf } of past) {
    if (whatIf === undefined) continue;
    const { board, on, off } = whatIf;
    const gone = new Set([...off, ...(on === undefined ? [] : [on.key])]);
    asked = [...asked.filter((each) => each.board !== board || !gone.has(each.key)), ...(on === undefined ? [] : [on])];
  }
  return asked.filter((each) => isStillAsked(document, each));
}
