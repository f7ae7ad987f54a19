import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { LiveRun } from '#sim/run/live-run.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { battery, busy, circuit, listener, timer } from '../../support/live-circuits.ts';

/** A button starts an interval of R C ln 3. */
function lamp(resistance = 100e3, presses: readonly object[] = []): Circuit {
  return circuit([
    battery,
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-6 },
    { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: 10e3 },
    { name: 'S1', kind: 'button', a: 'in', b: 'ground', presses },
    timer('ideal', { trigger: 'in', threshold: 'timing', discharge: 'timing' }),
  ]);
}

test('LiveRun.press() and release() do what presses in the circuit do', () => {
  const planned = listener();
  runCircuit(lamp(100e3, [{ at: 0.05, for: 0.01 }]), { until: 0.5, observers: [planned], faults: true });
  const byHand = listener();
  const live = new LiveRun(lamp(), { observers: [byHand] });
  live.advance(0.05);
  live.press('S1');
  expect(live.value('in')).toBe(0);
  live.advance(0.05 + 0.01);
  live.release('S1');
  live.advance(0.5);
  expect(byHand.events.map(({ kind, part }) => [kind, part])).toEqual(
    planned.events.map(({ kind, part }) => [kind, part]),
  );
  byHand.events.forEach((event, i) => expect(event.time).toBeCloseTo(planned.events[i]!.time, 14));
});

test('LiveRun.set() changes a value while an interval runs, and capacitors keep their voltage', () => {
  const heard = listener();
  const live = new LiveRun(lamp(), { observers: [heard] });
  live.advance(0.1);
  live.press('S1');
  live.advance(0.101);
  live.release('S1');
  live.advance(0.15);
  const before = live.value('timing');
  // 9 V (1 - exp(-50 ms / 100 ms)): closed form.
  expect(before).toBeCloseTo(9 * (1 - Math.exp(-0.5)), 12);
  live.set(lamp(200e3));
  expect(live.value('timing')).toBeCloseTo(before, 12);
  live.advance(1);
  const cleared = heard.events.find((event) => event.kind === 'cleared')!;
  // From there on with twice the time constant: ln((9 - v) / 3) more of 200 ms.
  expect(cleared.time).toBeCloseTo(0.15 + 0.2 * Math.log((9 - before) / 3), 12);
});

test('LiveRun.advance() pauses after the events it is given and goes on when asked', () => {
  const heard = listener();
  const live = new LiveRun(busy('bipolar'), { observers: [heard] });
  let pauses = 0;
  while (live.advance(0.05, { atATime: 7 }).code === 'paused') pauses++;
  const whole = listener();
  const outcome = runCircuit(busy('bipolar'), { until: 0.05, observers: [whole], faults: true });
  expect(heard.events).toEqual(whole.events);
  expect(pauses).toBe(Math.floor(outcome.events / 7));
});

test('LiveRun.set() never goes back in time: presses moved into the past are over', () => {
  const heard = listener();
  const live = new LiveRun(
    lamp(100e3, [
      { at: 0.1, for: 0.01 },
      { at: 1, for: 0.01 },
    ]),
    { observers: [heard] },
  );
  live.advance(0.5);
  live.set(
    lamp(100e3, [
      { at: 0.2, for: 0.01 },
      { at: 0.3, for: 0.01 },
    ]),
  );
  live.advance(2);
  expect(heard.events.filter(({ kind }) => kind === 'set')).toHaveLength(1);
  expect(heard.events.every(({ time }, i) => i === 0 || time >= heard.events[i - 1]!.time)).toBe(true);
});

test('LiveRun.set() delivers what waits in order, also when the delay has become shorter', () => {
  const slow = (delay: number): Circuit =>
    circuit([
      battery,
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: 1e3 },
      { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-4 },
      { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: 10e3 },
      { name: 'S1', kind: 'button', a: 'in', b: 'ground', presses: [{ at: 0.1, for: 0.01 }] },
      { ...timer('ideal', { trigger: 'in', threshold: 'timing', discharge: 'timing' }), with: { delay } },
    ]);
  const heard = listener();
  const live = new LiveRun(slow(1), { observers: [heard] });
  live.advance(0.2);
  live.set(slow(0.01));
  live.advance(3);
  const outputs = heard.events.filter(({ kind }) => kind.startsWith('output'));
  expect(outputs.map(({ kind }) => kind).slice(0, 2)).toEqual(['outputHigh', 'outputLow']);
  expect(heard.events.every(({ time }, i) => i === 0 || time >= heard.events[i - 1]!.time)).toBe(true);
});

test('LiveRun.advance() refuses a time that is none and does nothing for one that has passed', () => {
  const live = new LiveRun(lamp());
  live.advance(1);
  expect(() => live.advance(Number.NaN)).toThrow('until must be a finite time; got NaN.');
  expect(() => live.advance(Infinity)).toThrow('until must be a finite time');
  expect(live.advance(0.5)).toMatchObject({ code: 'reached', time: 1 });
});

test('LiveRun.advance() to a time that has passed leaves what is due now for later', () => {
  const heard = listener();
  const live = new LiveRun(lamp(), { observers: [heard] });
  live.advance(1);
  live.press('S1');
  const before = heard.events.length;
  live.advance(0.5);
  expect(heard.events).toHaveLength(before);
  live.advance(1);
  expect(heard.events.slice(before).map(({ kind }) => kind)).toContain('set');
});

test('LiveRun.set() to values that make a short ends the run, and names the parts', () => {
  const wired = (resistance: number): Circuit =>
    circuit([
      battery,
      { name: 'R1', kind: 'resistor', a: 'rail', b: 'in', resistance },
      { name: 'S1', kind: 'button', a: 'in', b: 'ground' },
    ]);
  const live = new LiveRun(wired(1e3));
  live.advance(1);
  live.press('S1');
  live.set(wired(0));
  const outcome = live.advance(2);
  expect(outcome).toMatchObject({ code: 'short', ok: false, time: 1 });
  expect([...outcome.parts!].sort()).toEqual(['BT1', 'R1', 'S1']);
  expect(live.checkpoint()).toBeUndefined();
});

test('LiveRun refuses to go on from what is no checkpoint of its circuit', () => {
  const run = new LiveRun(lamp());
  run.advance(0.05);
  const kept = JSON.parse(JSON.stringify(run.checkpoint())) as NonNullable<ReturnType<LiveRun['checkpoint']>>;
  const others: readonly unknown[] = [
    null,
    {},
    [],
    'kept',
    { ...kept, version: 1 },
    { ...kept, pieces: undefined },
    { ...kept, pieces: kept.pieces.slice(1) },
    { ...kept, states: [...kept.states, 0] },
    { ...kept, modal: 3 },
    { ...kept, roots: undefined },
    { ...kept, back: undefined },
    { ...kept, agenda: undefined },
    { ...kept, agenda: { ...kept.agenda, marks: [] } },
    { ...kept, agenda: { ...kept.agenda, corners: [] } },
    { ...kept, agenda: { ...kept.agenda, timetables: [] } },
    { ...kept, agenda: { ...kept.agenda, entries: [] } },
    { ...kept, agenda: { ...kept.agenda, slots: [] } },
    new LiveRun(busy('ideal')).checkpoint(),
    // Without faults fewer things are watched.
    new LiveRun(lamp(), { faults: false }).checkpoint(),
  ];
  for (const from of others) {
    expect(() => new LiveRun(lamp(), { from: from as typeof kept }), JSON.stringify(from)).toThrow(
      'live run: from must be a checkpoint of a run of the same circuit, with the same faults; got something else.',
    );
  }
  expect(new LiveRun(lamp(), { from: kept }).time).toBe(0.05);
});

test('LiveRun.press() refuses parts that cannot be pressed, and set() another circuit', () => {
  const live = new LiveRun(lamp());
  expect(() => live.press('R1')).toThrow('part must be one that can be pressed (S1); got R1.');
  expect(() => live.set(busy('ideal'))).toThrow('nets and parts must stay the same');
});
