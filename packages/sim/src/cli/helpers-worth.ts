/** Time between two looks at what jobs take (ms). */
const LOOK = 500;

/**
 * Work that has to be there for a thread to be worth its start (ms): it reads the program and the document and compiles all
 * code anew, which together take as long as some thousands of short runs; and where two processors share a core, each of two
 * threads gets on at little more than half the pace of one.
 */
const WORTH = 2000;

/**
 * While a job takes less than this share of what it took at the look before, code is still being compiled: the first jobs
 * take ten times as long as later ones, and say nothing of how much is left to do.
 */
const STEADY = 0.8;

/**
 * How many threads are to help with jobs, as far as what these take tells: each of them, and the thread that is there
 * already, is to have enough to do. Short work is done by one thread, and never has to wait for a second one. All times are
 * those of the processor, of all threads together: what else a busy machine does makes no work larger.
 */
export class HelpersWorth {
  private since: number;
  private done = 0;
  /** What a job took at the last look (ms); a first job that takes as long as a look has had its code compiled on the way. */
  private each = LOOK;

  /**
   * @param processors of the machine: there are never more threads than these.
   * @param now what the program has taken of the processors before any job (ms).
   */
  constructor(
    private readonly processors: number,
    now: number,
  ) {
    this.since = now;
  }

  /**
   * Looked at after a job.
   *
   * @param now what the program has taken of the processors by now (ms).
   * @param done jobs done since the beginning, by all threads.
   * @param left jobs not done yet.
   * @param helpers threads that help by now.
   * @returns how many should, never fewer than do.
   */
  at(now: number, done: number, left: number, helpers: number): number {
    const time = now - this.since;
    const count = done - this.done;
    if (time < LOOK || count === 0) return helpers;
    this.since = now;
    this.done = done;
    const each = time / count;
    const isSteady = each > STEADY * this.each;
    this.each = each;
    if (!isSteady) return helpers;
    const work = left * each;
    return Math.max(helpers, Math.min(this.processors, Math.floor(work / WORTH)) - 1);
  }
}
