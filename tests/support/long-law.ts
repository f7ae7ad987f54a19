import { writeSync } from 'node:fs';

/** Where what is said meanwhile goes: the runner keeps all else that a test prints until the test has ended. */
const STANDARD_ERROR = 2;
/** How often a long law says how far it is (s). */
const EVERY = 30;
/**
 * How much of the processor looking for a simpler counterexample may take (s): the cases of a long law are costly, and a
 * failure that is still being made simpler tells nobody anything.
 */
const SIMPLIFYING = 60;

/** How a law that takes minutes tells of itself. */
export interface LongLaw {
  readonly name: string;
  readonly runs: number;
  /** Processor time so far (s), and where to say something; the tests of this file bring their own. */
  readonly spent?: () => number;
  readonly say?: (line: string) => void;
}

function processorSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/**
 * The same predicate, told of while it runs: how many cases it has passed, the first failure at once and as it was drawn,
 * and then a bounded time for making it simpler, after which every case counts as passed.
 */
export function toldOf<Case>(
  predicate: (drawn: Case) => void,
  { name, runs, spent = processorSeconds, say = (line) => void writeSync(STANDARD_ERROR, `${line}\n`) }: LongLaw,
): (drawn: Case) => void {
  let passed = 0;
  let next = spent() + EVERY;
  let failedAt: number | undefined;
  return (drawn) => {
    if (failedAt !== undefined && spent() - failedAt > SIMPLIFYING) return;
    try {
      predicate(drawn);
    } catch (reason) {
      if (failedAt === undefined) {
        failedAt = spent();
        say(`${name}: failed after ${passed} of ${runs}: ${String(reason)}\n${JSON.stringify(drawn)}`);
      }
      throw reason;
    }
    if (failedAt !== undefined) return;
    passed++;
    if (spent() < next) return;
    next = spent() + EVERY;
    say(`${name}: ${passed} of ${runs}`);
  };
}
