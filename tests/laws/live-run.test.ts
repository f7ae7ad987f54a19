import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { LiveRun } from '#sim/run/live-run.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import '../support/costly-runs.ts';
import { everyBoard, type LawCase, turnedBoards } from '../support/law-cases.ts';
import { battery, busy, circuit, listener, timer } from '../support/live-circuits.ts';

test('LiveRun.advance() gives the events of one run, bit for bit, however the time is cut up', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('ideal', 'bipolar', 'cmos'),
      fc.array(fc.double({ min: 0, max: 0.05, noNaN: true }), { minLength: 1, maxLength: 8 }),
      (family, cuts) => {
        const whole = listener();
        runCircuit(busy(family), { until: 0.05, observers: [whole], faults: true });
        const cut = listener();
        const live = new LiveRun(busy(family), { observers: [cut] });
        for (const until of [...cuts].sort((a, b) => a - b)) live.advance(until);
        live.advance(0.05);
        expect(cut.events).toEqual(whole.events);
        // The pieces of the cut segments add up; each cut loses at most a rounding of the time.
        expect(cut.lengths.reduce((sum, length) => sum + length, 0)).toBeCloseTo(0.05, 14);
      },
    ),
  );
});

test('LiveRun.advance() stops just before a ramp takes a threshold over its limit without moving a bit of it', () => {
  const whole = listener();
  runCircuit(busy('ideal'), { until: 0.05, observers: [whole], faults: true });
  for (let cut = 1; cut < 300; cut++) {
    const heard = listener();
    const live = new LiveRun(busy('ideal'), { observers: [heard] });
    live.advance(cut === 1 ? 0.029360041481871532 : (0.05 * cut) / 300);
    live.advance(0.05);
    expect(heard.events, `cut ${cut}`).toEqual(whole.events);
  }
});

test('LiveRun.checkpoint() kept as JSON goes on bit for bit', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('ideal', 'bipolar', 'cmos'),
      fc.double({ min: 0, max: 0.05, noNaN: true }),
      (family, at) => {
        const whole = listener();
        runCircuit(busy(family), { until: 0.05, observers: [whole], faults: true });
        const first = listener();
        const live = new LiveRun(busy(family), { observers: [first] });
        live.advance(at);
        const kept = JSON.parse(JSON.stringify(live.checkpoint()));
        const second = listener();
        const next = new LiveRun(busy(family), { observers: [second], from: kept });
        expect(next.time).toBe(live.time);
        const outcome = next.advance(0.05);
        expect([...first.events, ...second.events]).toEqual(whole.events);
        expect(outcome.events).toBe(live.advance(0.05).events);
      },
    ),
  );
});

/** The bell of the platform: a button that bounces, on a timer of a family. */
function bell(family: string, seed: number): Circuit {
  return circuit([
    battery,
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: 10e3 },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-6, rating: 5 },
    { name: 'R2', kind: 'resistor', a: 'rail', b: 'in', resistance: 10e3 },
    { name: 'C2', kind: 'capacitor', a: 'in', b: 'ground', capacitance: 1e-8 },
    { name: 'S1', kind: 'button', a: 'in', b: 'ground', resistance: 10, bounce: { for: 5e-3, seed } },
    timer(family, { trigger: 'in', threshold: 'timing', discharge: 'timing' }),
  ]);
}

test('LiveRun.press() and release() of a contact that bounces give the same run, bit for bit, however the time is cut up', () => {
  const instants = fc.array(fc.double({ min: 0, max: 0.1, noNaN: true }), { minLength: 1, maxLength: 8 });
  const ascending = (times: readonly number[]): number[] => [...times].sort((a, b) => a - b);
  fc.assert(
    fc.property(
      fc.constantFrom('ideal', 'bipolar', 'cmos'),
      fc.integer({ min: 0, max: 1000 }),
      instants,
      instants,
      fc.integer({ min: 1, max: 9 }),
      fc.double({ min: 0, max: 0.1, noNaN: true }),
      (family, seed, hands, cuts, atATime, keptAt) => {
        const run = (stops: readonly number[], patient: boolean): RunEvent[] => {
          const heard = listener();
          let live = new LiveRun(bell(family, seed), { observers: [heard] });
          const to = (until: number): void => {
            if (!patient) live.advance(until);
            else while (live.advance(until, { atATime }).code === 'paused');
          };
          ascending(hands).forEach((at, k) => {
            for (const stop of stops) if (stop > live.time && stop < at) to(stop);
            to(at);
            if (k % 2 === 0) live.press('S1');
            else live.release('S1');
            if (!patient || at < keptAt) return;
            const kept = JSON.parse(JSON.stringify(live.checkpoint()));
            live = new LiveRun(bell(family, seed), { observers: [heard], from: kept });
          });
          to(0.15);
          return heard.events;
        };
        const whole = run([], false);
        expect(run(ascending(cuts), true)).toEqual(whole);
      },
    ),
  );
});

test('LiveRun.checkpoint() goes on bit for bit on every board and every worked example', () => {
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(turnedBoards(['ideal', 'cmos', 'bipolar']), share, ({ circuit: board, until }, part) => {
      const whole = listener();
      const outcome = runCircuit(board, { until, observers: [whole], faults: true });
      const first = listener();
      const live = new LiveRun(board, { observers: [first] });
      live.advance(part * outcome.time);
      const second = listener();
      const kept = JSON.parse(JSON.stringify(live.checkpoint()));
      const ending = new LiveRun(board, { observers: [second], from: kept }).advance(until);
      expect([...first.events, ...second.events]).toEqual(whole.events);
      expect(ending).toEqual(outcome);
    }),
    { examples: everyBoard.map((board, k): [LawCase, number] => [board, (k + 0.5) / everyBoard.length]) },
  );
});
