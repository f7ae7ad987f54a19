import { LiveRunController } from '#notebook/controllers/live-run-controller.ts';
import { LampLights } from '#notebook/runtime/lamp-lights.ts';
import type { LiveBeginning, LiveReport } from '#notebook/runtime/live-protocol.ts';
import type { PartRow } from '@two-thirds/sim/document';
import type { LiveHandle } from '#notebook/worker/live-start.ts';
import { beforeEach, expect, test, vi } from 'vitest';

type Host = ConstructorParameters<typeof LiveRunController>[0];

/** A worker whose beginning is told by the test, and what the page hears when it breaks down. */
interface MadeWorker {
  readonly begun: (beginning: LiveBeginning) => void;
  readonly breaks: (message: string) => void;
  readonly isEnded: () => boolean;
}

/** A run by hand of a lamp, and the workers it has started so far. */
function lampRun(): { run: LiveRunController; workers: MadeWorker[] } {
  const workers: MadeWorker[] = [];
  const host = { addController: () => undefined, requestUpdate: () => undefined };
  const start = (breaks: (message: string) => void): LiveHandle => {
    let isEnded = false;
    const beginning = new Promise<LiveBeginning>((begun) => workers.push({ begun, breaks, isEnded: () => isEnded }));
    const live = { begin: () => beginning } as unknown as LiveHandle['live'];
    return { live, terminate: () => (isEnded = true) };
  };
  const run = new LiveRunController(host as unknown as Host, start, new LampLights());
  run.show({ boards: { lamp: { parts: [] } } }, 'lamp', []);
  return { run, workers };
}

const atRest: LiveBeginning = {
  ok: true,
  presses: [],
  level: 1,
  report: { time: 0, done: 0, events: [], happened: 0, parts: [], outputs: [] },
};

/** Lets time pass in a run whose newest worker begins. */
async function passing(run: LiveRunController, workers: readonly MadeWorker[]): Promise<void> {
  const pressed = run.pass();
  workers.at(-1)?.begun(atRest);
  await pressed;
}

beforeEach(() => {
  // Frames are no matter here: none is drawn.
  vi.stubGlobal('requestAnimationFrame', () => 1);
  vi.stubGlobal('cancelAnimationFrame', () => undefined);
  return () => {
    vi.unstubAllGlobals();
    vi.restoreAllMocks();
  };
});

test('what is pressed while a run is still beginning happens in the order in which it was pressed', async () => {
  const { run, workers } = lampRun();
  const pressed = [run.next(), run.pass()];
  expect(workers).toHaveLength(1);
  workers[0]?.begun(atRest);
  await Promise.all(pressed);
  expect(run.view.phase).toBe('passing');
});

test('what is pressed while a run is still beginning waits for it', async () => {
  const { run, workers } = lampRun();
  const pressed = [run.pass(), run.pass()];
  await Promise.resolve();
  expect(run.view.phase).toBe('away');
  workers[0]?.begun(atRest);
  await Promise.all(pressed);
  expect(run.view.phase).toBe('passing');
});

test('a run that was left while it began does not come, and the next one begins', async () => {
  const { run, workers } = lampRun();
  const left = run.pass();
  run.leave();
  expect(workers[0]?.isEnded()).toBe(true);
  const next = run.pass();
  workers[0]?.begun(atRest);
  await left;
  expect(run.view.phase).toBe('away');
  workers[1]?.begun(atRest);
  await next;
  expect(run.view.phase).toBe('passing');
});

test('a board that cannot run is told of once it was asked to, and can be tried again', async () => {
  const { run, workers } = lampRun();
  const refused = run.pass();
  workers[0]?.begun({ ok: false, failure: { message: 'No supply.' } });
  await refused;
  expect(run.view).toMatchObject({ phase: 'away', complaint: 'No supply.' });
  await passing(run, workers);
  expect(run.view.phase).toBe('passing');
});

test('a worker that was ended does not end the run after its own by breaking down late', async () => {
  const { run, workers } = lampRun();
  await passing(run, workers);
  run.leave();
  await passing(run, workers);
  workers[0]?.breaks('lost');
  expect(run.view).toMatchObject({ phase: 'passing', complaint: undefined });
  workers[1]?.breaks('lost');
  expect(run.view).toMatchObject({ phase: 'away', complaint: 'lost' });
});

/** A lamp with a limit current of 20 mA, as a board lists it. */
const lamp = { name: 'D1', kind: 'led', fields: [{ name: 'limit', value: 0.02 }] } as unknown as PartRow;

// WCAG 2.2, success criterion 2.3.1, is about what is seen: a slice shows when it comes, not when it was asked for.
test('a lamp turns at most five times within a second of what is seen, however late slices come', async () => {
  let clock = 0;
  vi.spyOn(performance, 'now').mockImplementation(() => clock);
  let frame: FrameRequestCallback = () => undefined;
  vi.stubGlobal('requestAnimationFrame', (next: FrameRequestCallback) => {
    frame = next;
    return 1;
  });
  let answer: (report: LiveReport) => void = () => undefined;
  const live = {
    begin: () => Promise.resolve(atRest),
    advance: () => new Promise<LiveReport>((resolve) => (answer = resolve)),
  } as unknown as LiveHandle['live'];
  const host = { addController: () => undefined, requestUpdate: () => undefined } as unknown as Host;
  const run = new LiveRunController(host, () => ({ live, terminate: () => undefined }), new LampLights());
  run.show({ boards: { lamp: { parts: [] } } }, 'lamp', [lamp]);
  await run.pass();
  const shown: number[] = [];
  const turns: number[] = [];
  // The first slice comes 300 ms after it was asked for, and so does the second; the others come at once.
  const slices = [
    [10, 310],
    [320, 610],
    [620, 620],
    [650, 650],
    [700, 700],
    [1020, 1020],
    [1400, 1400],
    [1710, 1710],
  ] as const;
  for (const [index, [asked, comes]] of slices.entries()) {
    clock = asked;
    frame(asked);
    clock = comes;
    const current = index % 2 === 0 ? 0.02 : 0;
    answer({ ...atRest.report, parts: [{ part: 'D1', current, rises: 0, firstRise: 0, lastRise: 0 }] });
    await new Promise((resolve) => setTimeout(resolve));
    const light = run.view.lamps.get('D1')?.light ?? 0;
    if (light !== (shown.at(-1) ?? 0)) turns.push(comes);
    shown.push(light);
  }
  expect(turns).toEqual([310, 610, 620, 650, 700, 1710]);
});
