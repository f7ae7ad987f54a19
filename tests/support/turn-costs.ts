/** One event of a trace of Chromium, as far as it is read here; times in microseconds. */
export interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  /** What belongs together of events that begin and end apart. */
  readonly id?: number | string;
  /** Time of the processor, not of the clock. */
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/** What turns of a knob cost until they are painted: milliseconds of the processors, one number for each turn. */
export interface TurnCosts {
  readonly turns: number;
  /** Milliseconds by the clock until the display has the frame: all its pixels are worked out. */
  readonly shown: readonly number[];
  readonly page: readonly number[];
  readonly workers: readonly number[];
}

/** Reads the costs off a trace: tasks that begin between the marks `turned` and `painted` of a page. */
export function turnCosts(events: readonly TraceEvent[]): TurnCosts {
  const begins = events.filter(({ name, ph }) => name === 'turned' && ph !== 'e');
  const page = begins[0];
  if (page === undefined) throw new Error('turn costs: the trace must have marks named turned; got none.');
  const own = events.filter(({ pid }) => pid === page.pid);
  const ends = own.filter(({ name }) => name === 'painted').map(({ ts }) => ts);
  const workers = new Set(
    own
      .filter(({ name, args }) => name === 'thread_name' && args?.name?.includes('DedicatedWorker') === true)
      .map(({ tid }) => tid),
  );
  const frames = own.filter(({ name }) => name === 'AnimationFrame');
  const shownAfter = (from: number): number => {
    const until = Math.min(...ends.filter((end) => end >= from));
    // The frame that was painted is the one begun last before the mark.
    const frame = frames.findLast(({ ph, ts }) => ph === 's' && ts < until);
    const shown = frames.find(({ ph, id, ts }) => ph === 'f' && id === frame?.id && ts >= until);
    return shown === undefined ? Number.NaN : (shown.ts - from) / 1000;
  };
  const tasks = own.filter(({ name, ph }) => ph === 'X' && name === 'RunTask');
  const costOf = (from: number, isOf: (thread: number) => boolean): number => {
    const until = Math.min(...ends.filter((end) => end >= from));
    const inside = tasks.filter(({ ts, tid }) => ts >= from - LEAD && ts < until && isOf(tid));
    return inside.reduce((sum, { tdur }) => sum + (tdur ?? 0), 0) / 1000;
  };
  return {
    turns: begins.length,
    shown: begins.map(({ ts }) => shownAfter(ts)).filter((time) => !Number.isNaN(time)),
    page: begins.map(({ ts }) => costOf(ts, (thread) => thread === page.tid)),
    workers: begins.map(({ ts }) => costOf(ts, (thread) => workers.has(thread))),
  };
}

/** The task in which the key is pressed has begun before its mark (microseconds). */
const LEAD = 3000;
