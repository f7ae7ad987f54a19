import { expose } from 'comlink';
import { type LiveBoard, liveBoard } from './live-board.ts';
import type { LiveBeginning, LiveChange, LiveReport, LiveSlice, TraceWish } from '../runtime/live-protocol.ts';
import { LiveSession } from './live-session.ts';

let session: LiveSession | undefined;

function open(): LiveSession {
  if (session === undefined) throw new RangeError('live run: begin must come first.');
  return session;
}

function isGood(board: ReturnType<typeof liveBoard>): board is LiveBoard {
  return 'circuit' in board;
}

expose({
  begin(text: string, board: string): LiveBeginning {
    const found = liveBoard(text, board);
    if (!isGood(found)) return { ok: false, failure: found };
    session = new LiveSession(found, () => performance.now());
    const report = session.advance({ span: 0, budget: 0, whole: true });
    return { ok: true, presses: found.presses, report, level: session.level };
  },
  change(text: string, board: string): LiveChange {
    const found = liveBoard(text, board);
    if (!isGood(found)) return { ok: false, failure: found };
    return { ok: true, restarted: open().change(found), presses: found.presses };
  },
  advance: (slice: LiveSlice): LiveReport => open().advance(slice),
  next: (budget: number, trace?: TraceWish): LiveReport => open().next(budget, trace),
  work(part: string, pressed: boolean): void {
    open().work(part, pressed);
  },
});
