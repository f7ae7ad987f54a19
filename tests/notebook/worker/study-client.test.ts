import { StudyBench } from '#notebook/worker/study-bench.ts';
import { StudyClient, type StudyHandle, type StudyListener } from '#notebook/worker/study-client.ts';
import { computeDocument, type CellResult, documentStudies, parseDocument } from '#sim/document/index.ts';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { documentOf, usable } from '../../support/documents.ts';
import { astable } from '../../support/timer-circuits.ts';

/** The axle counter's range of train speeds, in more jobs than there are workers. */
function page(steps = 24, more: Record<string, unknown> = {}): string {
  return JSON.stringify({
    format: 'two-thirds',
    version: 1,
    boards: { coaches: { ready: 'frequency divider', values: { R1: '100 kΩ', C1: '4.7 µF', 'U1.family': 'ideal' } } },
    page: [
      {
        id: 'speeds',
        kind: 'sweep',
        board: 'coaches',
        until: '2 s',
        vary: { value: 'G1.wave.period', from: '120 ms', to: '200 ms', steps },
        take: { ratio: 'ratio(out, in)' },
        ...more,
      },
    ],
  });
}

/** A flasher without a rule of thumb: the nearest of its sets are found by a survey, which the later jobs follow from. */
const flasher = astable({ voltage: 9, first: 10e3, second: 47e3, capacitance: 1e-6 });
const survey = {
  ...{ id: 'speeds', kind: 'choose', board: 'lamp', from: '2 s', until: '8 s' },
  adjust: { R2: 'E12', C1: { series: 'E12', from: '1 µF', to: '10 µF' }, R1: ['10 kΩ', '12 kΩ'] },
  want: { blinks: { reading: 'frequency(out)', value: '3 Hz' } },
};

/** What the command line would give: all jobs in one thread. */
function expected(text: string): CellResult | undefined {
  const { document } = parseDocument(text);
  return document === undefined ? undefined : computeDocument(document).results['speeds'];
}

let log: string[];
/** What each worker did; `ran` in its order, `held` what it knew of the study before each of these jobs. */
let benches: { ended: boolean; ran: number[]; held: number[][] }[];
let results: CellResult[];
let settle: () => void;
let settled: Promise<void>;
const listener: StudyListener = {
  result: (id, result, newest) => {
    log.push(`result ${id} ${newest ? 'newest' : 'overtaken'}`);
    results.push(result);
  },
  part: (id) => log.push(`part ${id}`),
  progress: (_id, share) => log.push(`progress ${share.toFixed(2)}`),
  failed: (message) => log.push(`failed ${message}`),
  settled: () => settle(),
};

/** How long a worker takes for a job (ms), or what it waits for. */
type Pause = (index: number) => number | Promise<void>;

/** A worker in this thread that takes a while for every message. */
function startIn(pause: Pause): () => StudyHandle {
  return () => {
    const bench = new StudyBench((document, cell) => computeDocument(document, { only: [cell] }).results[cell]);
    const state = { ended: false, ran: [] as number[], held: [] as number[][] };
    const known = new Set<number>();
    benches.push(state);
    let before: Promise<unknown> = Promise.resolve();
    const answer = <T>(give: () => T | Promise<T>, wait: ReturnType<Pause> = 0): Promise<T> => {
      const begin = async (): Promise<T> => {
        await (typeof wait === 'number' ? new Promise((resolve) => setTimeout(resolve, wait)) : wait);
        // A worker that was ended never answers.
        return state.ended ? new Promise(() => undefined) : give();
      };
      // A worker takes its messages one after the other.
      const given = before.then(begin, begin);
      before = given;
      return given;
    };
    return {
      worker: {
        openStudy: (study, text, cell) => answer(() => bench.open(study, text, cell)),
        runJob: (study, index) =>
          answer(() => {
            state.held.push([...known].sort((a, b) => a - b));
            state.ran.push(index);
            known.add(index);
            return bench.run(study, index);
          }, pause(index)),
        giveJobs: (study, jobs) =>
          answer(() => {
            for (const [index] of jobs) known.add(index);
            bench.give(study, jobs);
          }),
        collectJobs: (study, jobs) =>
          answer(() => {
            for (const [index] of jobs) known.add(index);
            return bench.collect(study, jobs);
          }),
        closeStudy: (study) => answer(() => bench.close(study)),
      },
      terminate: () => {
        state.ended = true;
      },
    };
  };
}

beforeEach(() => {
  log = [];
  benches = [];
  results = [];
  settled = new Promise((resolve) => {
    settle = resolve;
  });
});

/** The same page with another value that the study sets itself. */
const elsewhere = (): string => page().replace('"R1":"100 kΩ"', '"R1":"100 kΩ","G1.wave.period":"170 ms"');

/** Something that a test waits for; `done` gives back what it is given. */
function once(): { happened: Promise<void>; done: <T>(value: T) => T } {
  let happen = (): void => undefined;
  const happened = new Promise<void>((resolve) => {
    happen = resolve;
  });
  return {
    happened,
    done: (value) => {
      happen();
      return value;
    },
  };
}

let clients: StudyClient[] = [];
/** A client with workers that take a while for every message. */
function clientOf(pause: Pause, size: number, start = startIn(pause)): StudyClient {
  const client = new StudyClient(start, size, listener);
  clients.push(client);
  return client;
}

// No client may speak to the listener of the next test.
afterEach(() => {
  for (const client of clients) client.clear();
  clients = [];
});

const wanted = (signature = 'one') => [{ id: 'speeds', signature }];
const ran = (): number[] => benches.flatMap((bench) => bench.ran).sort((a, b) => a - b);

describe('StudyClient', () => {
  // A study done twice: a second of a processor, several on a busy machine.
  const long = { timeout: 300_000 };

  test.each([1, 2, 5])(
    'gives what one thread gives, with %i workers that are slow now and then',
    long,
    async (size) => {
      const text = page();
      clientOf((index) => (index * 7) % 11, size).run(text, wanted());
      await settled;
      expect(results.at(-1)).toEqual(expected(text));
      expect(ran()).toEqual([0, 1, 2, 3, 4, 5]);
      expect(benches).toHaveLength(size);
      if (size > 1) for (const bench of benches.slice(0, 2)) expect(bench.ran.length).toBeGreaterThan(0);
    },
  );

  test.each([1, 3])('runs what later jobs follow from once, with %i workers', long, async (size) => {
    const text = JSON.stringify(documentOf({ lamp: { parts: flasher } }, [survey]));
    clientOf((index) => (index * 7) % 11, size).run(text, wanted());
    await settled;
    expect(results.at(-1)).toEqual(expected(text));
    const [study] = documentStudies(usable(documentOf({ lamp: { parts: flasher } }, [survey])));
    const { first = 0, jobCount = 0 } = study?.study ?? {};
    expect(first).toBeGreaterThan(size);
    expect(ran()).toEqual(Array.from({ length: jobCount }, (_, index) => index));
    // Whoever runs a later job already knows all of the survey; so nobody runs any of it again.
    const later = benches.flatMap((bench) => bench.held.filter((_, position) => bench.ran[position]! >= first));
    expect(later.length).toBe(jobCount - first);
    for (const held of later) {
      expect(held.filter((index) => index < first)).toEqual(Array.from({ length: first }, (_, index) => index));
    }
    // The jobs after the survey are shared as well: those who had nothing to do meanwhile are called.
    if (size > 1)
      expect(benches.filter((bench) => bench.ran.some((index) => index >= first)).length).toBeGreaterThan(1);
  });

  test('hands the survey on once, be it to show what is done so far or to run a later job', long, async () => {
    const text = JSON.stringify(documentOf({ lamp: { parts: flasher } }, [survey]));
    // The worker that makes the results is the last to end its part of the survey, and by then a result of it is due.
    clientOf((index) => (index === 3 ? 400 : 0), 3).run(text, wanted());
    await settled;
    expect(results.at(-1)).toEqual(expected(text));
    const [maker] = benches;
    const first = maker?.ran.findIndex((index) => index > 4) ?? -1;
    expect(maker?.ran.slice(0, first)).toContain(3);
    expect(maker?.held[first]).toEqual([0, 1, 2, 3, 4]);
  });

  test('holds nothing but the box of a claim back until its courses are there, and hands them on', long, async () => {
    const claim = {
      ...{ id: 'speeds', kind: 'claim', board: 'lamp', from: '2 s', until: '8 s', trials: 60 },
      says: 'frequency(out) = 1.44 / ((R1 + 2 * R2) * C1) within 2 %',
      over: {
        R1: { from: '4.7 kΩ', to: '22 kΩ', series: 'E3' },
        R2: { from: '22 kΩ', to: '100 kΩ', series: 'E3' },
        C1: { from: '470 nF', to: '2.2 µF', series: 'E3' },
      },
    };
    // The course of one value takes until a trial is run; if none is run meanwhile, it ends all the same.
    const tried = once();
    const late = new Promise<void>((resolve) => setTimeout(resolve, 20_000));
    clientOf((index) => (index === 2 ? Promise.race([tried.happened, late]) : index === 4 ? tried.done(5) : 5), 2).run(
      JSON.stringify(documentOf({ lamp: { parts: flasher } }, [claim])),
      wanted(),
    );
    await settled;
    expect(results.at(-1)).toMatchObject({ kind: 'claim', ok: true });
    const jobs = 1 + 3 + 3 + 1;
    expect(ran()).toEqual(Array.from({ length: jobs }, (_, index) => index));
    const [box] = benches.flatMap((bench) => bench.held.filter((_, position) => bench.ran[position] === jobs - 1));
    expect(box).toEqual(expect.arrayContaining([0, 1, 2, 3]));
    const trials = benches.flatMap((bench) => bench.held.filter((_, position) => bench.ran[position] === 4));
    expect(trials.flat()).not.toContain(2);
  });

  test('tells that it has begun and how far it is after every job, and shows what is done so far', async () => {
    clientOf(() => 60, 1).run(page(), wanted());
    await settled;
    expect(log.filter((line) => line.startsWith('progress'))).toEqual(
      [0, 1, 2, 3, 4, 5, 6].map((done) => `progress ${(done / 6).toFixed(2)}`),
    );
    expect(log).toContain('part speeds');
    expect(log.at(-1)).toBe('result speeds newest');
  });

  test('what is done when it is stopped is not done again', async () => {
    const reached = once();
    const client = clientOf((index) => (index === 3 ? reached.done(10) : 10), 1);
    client.run(page(), wanted());
    await reached.happened;
    client.stop();
    expect(benches.every((bench) => bench.ended)).toBe(true);
    expect(ran()).toEqual([0, 1, 2]);
    client.run(page(), wanted());
    await settled;
    expect(ran()).toEqual([0, 1, 2, 3, 4, 5]);
    expect(results.at(-1)).toEqual(expected(page()));
  });

  test('an edit that leaves the runs alone, while they are under way, has none of them done twice', async () => {
    const reached = once();
    const client = clientOf((index) => (index === 2 ? reached.done(10) : 10), 2);
    client.run(page(), wanted());
    await reached.happened;
    const text = elsewhere();
    client.run(text, wanted());
    await settled;
    expect(ran()).toEqual([0, 1, 2, 3, 4, 5]);
    expect(results.at(-1)).toEqual(expected(text));
  });

  test('the same signature costs no runs, though the document is another', async () => {
    const client = clientOf(() => 0, 2);
    client.run(page(), wanted());
    await settled;
    settled = new Promise((resolve) => {
      settle = resolve;
    });
    const text = elsewhere();
    client.run(text, wanted());
    await settled;
    expect(ran()).toEqual([0, 1, 2, 3, 4, 5]);
    expect(results).toHaveLength(2);
    expect(results[1]).toEqual(expected(text));
  });

  test('the newest edit wins: a long study that is overtaken is left, and its workers are free for the new one', async () => {
    const client = clientOf(() => 80, 1);
    client.run(page(400), wanted('old'));
    await expect.poll(() => ran().length).toBeGreaterThan(0);
    client.run(page(4), wanted('new'));
    await settled;
    expect(results).toHaveLength(1);
    expect(results[0]).toEqual(expected(page(4)));
    expect(benches).toHaveLength(1);
  });

  test('a worker that does not come to an end is replaced', async () => {
    let isFirst = true;
    const client = clientOf(
      () => 0,
      1,
      () => {
        const handle = startIn(() => (isFirst ? 60_000 : 0))();
        const { worker } = handle;
        const runJob = (study: number, index: number): Promise<string> => {
          const answer = worker.runJob(study, index);
          isFirst = false;
          return answer;
        };
        return { ...handle, worker: { ...worker, runJob } };
      },
    );
    client.run(page(400), wanted('old'));
    await expect.poll(() => isFirst).toBe(false);
    client.run(page(4), wanted('new'));
    await settled;
    expect(benches).toHaveLength(2);
    expect(benches[0]?.ended).toBe(true);
    expect(results.at(-1)).toEqual(expected(page(4)));
  });

  test('a cell at fault gets its fault, and is tried again though its signature is the same', async () => {
    const client = clientOf(() => 0, 2);
    client.run(page(24, { take: { ratio: 'ratio(out)' } }), wanted());
    await settled;
    expect(results[0]).toMatchObject({ kind: 'sweep', ok: false });
    settled = new Promise((resolve) => {
      settle = resolve;
    });
    client.run(page(), wanted());
    await settled;
    expect(results[1]).toEqual(expected(page()));
  });

  test('nothing to do is settled at once', async () => {
    clientOf(() => 0, 2).run(page(), []);
    await settled;
    expect(benches).toEqual([]);
  });
});
