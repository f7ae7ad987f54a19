import { LiveRunController } from '#notebook/controllers/live-run-controller.ts';
import { LampLights } from '#notebook/runtime/lamp-lights.ts';
import type { LiveBeginning } from '#notebook/runtime/live-protocol.ts';
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
  return () => vi.unstubAllGlobals();
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
