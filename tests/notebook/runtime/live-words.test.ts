import type { LiveEvent, PressPart } from '#notebook/runtime/live-protocol.ts';
import { clockText, happeningWords, quietWords } from '#notebook/runtime/live-words.ts';
import { expect, test } from 'vitest';

const presses: PressPart[] = [{ part: 'S1', kind: 'button', closed: false, planned: false }];
const event = (part: string, kind: LiveEvent['kind'], more: Partial<LiveEvent> = {}): LiveEvent => ({
  time: 1.2,
  timeLow: 0,
  part,
  kind,
  running: false,
  ...more,
});
const said = (events: LiveEvent[], happened = events.length): string | undefined =>
  happeningWords({ time: 1.21, events, happened, outputs: [] }, presses)?.replaceAll('\u202f', ' ');

test('happeningWords() tells a press and what it starts, with the numbers of the run', () => {
  const trigger = event('U1', 'triggerLow', { value: 1e-7, limit: 3 });
  expect(said([event('S1', 'close'), trigger, event('U1', 'set'), event('U1', 'outputHigh')])).toBe(
    'At 1.200 s: S1 is pressed; TRIGGER of U1 falls below its limit (0 V, limit 3.00 V); U1 starts an interval; the output of U1 goes high.',
  );
});

test('happeningWords() says that a trigger during an interval starts nothing', () => {
  expect(said([event('U1', 'triggerLow', { value: 0.5, limit: 3, running: true })])).toMatch(
    /starts nothing while an interval runs/,
  );
});

test('happeningWords() says nothing where nothing happened, and sums up what nobody could follow', () => {
  expect(said([])).toBeUndefined();
  const changes = Array.from({ length: 41 }, (_, step) => 1 + step / 1000);
  const outputs = [{ timer: 'U1', high: false, changes, cut: false }];
  const words = happeningWords({ time: 1.04, events: [event('U1', 'set')], happened: 90, outputs }, presses);
  expect(words?.replaceAll('\u202f', ' ')).toBe('Without a pause: the output of U1 goes up and down at 500 Hz.');
});

test('happeningWords() tells bounces and limits that are passed', () => {
  expect(said([event('S1', 'close'), event('S1', 'open', { bounces: true })])).toBe(
    'At 1.200 s: S1 is pressed; S1 bounces.',
  );
  const fault = (phase: 'over' | 'clear'): LiveEvent =>
    event('C1', 'fault', { fault: { what: 'over-voltage', phase } });
  expect(said([fault('over')])).toBe('At 1.200 s: C1 goes beyond a limit.');
  expect(said([fault('clear')])).toBe('At 1.200 s: C1 is back within a limit.');
});

test('quietWords() says what to do where nothing happens by itself', () => {
  const words = quietWords(2, 2 + 31_557_600, presses).replaceAll('\u202f', ' ');
  expect(words).toBe('After 2.000 s nothing happens by itself for a year. Work S1 to make something happen.');
});

test('what happens in the first moment of a run is told at 0 s, not at the least time that a run can take', () => {
  const early = { ...event('S1', 'close'), time: 1e-15 };
  expect(happeningWords({ time: 1e-15, events: [early], happened: 1, outputs: [] }, presses)).toBe(
    'At 0\u202fs: S1 is pressed.',
  );
  expect(quietWords(1e-15, 31_557_600, presses)).toMatch(/^After 0\u202fs nothing happens/);
  // What a run can tell apart is told as it is.
  expect(clockText(2e-9, 3)).toBe('2.00\u202fns');
});
