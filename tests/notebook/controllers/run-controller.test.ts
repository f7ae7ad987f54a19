import type { CaptureFiles, CaptureState } from '#notebook/controllers/capture-files.ts';
import type { DrawingTurns } from '#notebook/controllers/drawing-turns.ts';
import { RunController } from '#notebook/controllers/run-controller.ts';
import type { Json } from '#notebook/edit/json.ts';
import { stateOf, waiting } from '#notebook/runtime/cell-state.ts';
import type { RunListener, StudyWorker } from '#notebook/worker/protocol.ts';
import type { StudyHandle } from '#notebook/worker/study-client.ts';
import type { CellResult } from '#sim/document/index.ts';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';

/** Ends what a worker is asked, when the test says so. */
let answers: (() => void)[];
/** How many jobs of studies workers were given. */
let jobs = 0;
const result: CellResult = { kind: 'note', ok: true, quotes: {} };

const answered = <T>(value: T): Promise<T> => new Promise((resolve) => answers.push(() => resolve(value)));
const worker: StudyWorker = {
  openStudy: () => answered({ count: 2, first: 0, following: 0 }),
  giveJobs: () => answered(undefined),
  runJob: () => {
    jobs++;
    return answered('{}');
  },
  collectJobs: () => answered(result),
  closeStudy: () => answered(undefined),
};

vi.mock('#notebook/worker/start.ts', () => ({
  startStudyWorker: (): StudyHandle => ({ worker, terminate: () => undefined }),
  studyWorkerCount: () => 1,
}));

/** A page that holds its measurements in files. */
const page = (...ids: string[]): Json => ({
  boards: { lamp: { values: { R1: '390 kΩ' } } },
  page: ids.map((id) => ({ id, kind: 'capture', board: 'lamp', until: '8 s', data: 'bench.csv' })),
});

/** The same page with other measurements. */
const withOtherFile = (document: Json): Json =>
  JSON.parse(JSON.stringify(document).replaceAll('bench.csv', 'other.csv')) as Json;

/** Calls of the worker of cells with one run, each with what ends it, and who hears of their results. */
let runs: (() => void)[];
let listener: RunListener;

let files: { state: CaptureState; onRead: (cell: string) => void; stateOf(): CaptureState };
let controller: RunController;

afterEach(() => {
  vi.useRealTimers();
});

beforeEach(() => {
  vi.useFakeTimers();
  answers = [];
  jobs = 0;
  runs = [];
  files = { state: { what: 'reading' }, onRead: () => undefined, stateOf: () => files.state };
  const host = { addController: () => undefined, requestUpdate: () => undefined, addEventListener: () => undefined };
  const turns = {
    isInSight: () => true,
    turn: () => answered(undefined),
    hold: () => undefined,
    release: () => undefined,
  };
  controller = new RunController(
    host as unknown as ConstructorParameters<typeof RunController>[0],
    (heard) => {
      listener = heard;
      return {
        simulation: {
          connect: () => Promise.resolve(),
          compute: () => new Promise((resolve) => runs.push(resolve)),
          cancel: () => Promise.resolve(),
        },
        terminate: () => undefined,
      };
    },
    files as unknown as CaptureFiles,
    turns as unknown as DrawingTurns,
    () => undefined,
  );
});

/** Answers whatever is asked, until nothing is. */
async function answerAll(): Promise<void> {
  for (let turn = 0; turn < 50; turn++) {
    for (const answer of [...answers.splice(0), ...runs.splice(0)]) answer();
    for (let pause = 0; pause < 20; pause++) await Promise.resolve();
  }
}

const ready: CaptureState = { what: 'ready', key: 'read', outcome: undefined };

describe('RunController', () => {
  test('computes a cell once its measurement is read', async () => {
    controller.show(page('bench'));
    await answerAll();
    expect(waiting(controller.states)).toEqual(['bench']);
    files.state = ready;
    files.onRead('bench');
    await answerAll();
    expect(stateOf(controller.states, 'bench')).toMatchObject({ phase: 'current', shown: result });
  });

  test('computes a cell that got another name while its measurement was read', async () => {
    controller.show(page('bench'));
    controller.show(page('lit'));
    await answerAll();
    files.state = ready;
    files.onRead('bench');
    await answerAll();
    expect(stateOf(controller.states, 'lit')).toMatchObject({ phase: 'current', shown: result });
  });

  test('waits for nothing of a cell that is taken off the page while it is computed', async () => {
    files.state = ready;
    controller.show(page('bench', 'lit'));
    controller.show(withOtherFile(page('lit')));
    // All of the first page comes to its end before the second one is begun.
    await answerAll();
    await vi.advanceTimersByTimeAsync(1000);
    await answerAll();
    expect(waiting(controller.states)).toEqual([]);
    expect(stateOf(controller.states, 'lit').phase).toBe('current');
  });

  test('goes on with no study of a cell that is taken off the page, though nothing else is to be computed', async () => {
    files.state = ready;
    controller.show(page('bench'));
    while (jobs === 0) {
      for (const answer of answers.splice(0)) answer();
      await Promise.resolve();
    }
    controller.show(page());
    await answerAll();
    await vi.advanceTimersByTimeAsync(1000);
    await answerAll();
    expect(jobs).toBe(1);
  });

  describe('with edits that follow each other quickly', () => {
    const lamp = (R1: string): Json => ({
      boards: { lamp: { ready: 'monostable', values: { R1 } } },
      page: [{ id: 'numbers', kind: 'note', text: `Lit with [R1](#lamp.R1), ${R1}` }],
    });
    const told = (quote: string): CellResult => ({
      kind: 'note',
      ok: true,
      quotes: { quote: { text: quote } } as never,
    });
    const [first, middle, last] = [told('first'), told('middle'), told('last')];
    const shown = (): unknown => stateOf(controller.states, 'numbers').shown;
    const settle = async (): Promise<void> => {
      runs.splice(0).forEach((end) => end());
      await vi.advanceTimersByTimeAsync(0);
    };

    test('a knob drags what it changes along, and ends where it stands', async () => {
      controller.show(lamp('390 kΩ'));
      listener.results(1, [['numbers', first]]);
      await settle();
      controller.show(lamp('470 kΩ'));
      controller.show(lamp('560 kΩ'));
      listener.results(2, [['numbers', middle]]);
      expect(shown()).toBe(middle);
      expect(waiting(controller.states)).toEqual(['numbers']);
      await settle();
      listener.results(3, [['numbers', last]]);
      expect(stateOf(controller.states, 'numbers')).toMatchObject({ phase: 'current', shown: last });
    });

    test('shows nothing of the middle value where it is undone before it is computed', async () => {
      const before = lamp('390 kΩ');
      controller.show(before);
      listener.results(1, [['numbers', first]]);
      await settle();
      controller.show(lamp('470 kΩ'));
      controller.show(before);
      listener.results(2, [['numbers', middle]]);
      expect(shown()).toBe(first);
      await settle();
      listener.results(3, [['numbers', first]]);
      expect(stateOf(controller.states, 'numbers')).toMatchObject({ phase: 'current', shown: first });
    });
  });
});
