import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { LiveRun } from '#sim/run/live-run.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { RunEvent } from '#sim/trace/event.ts';
import type { Observer } from '#sim/trace/observer.ts';

function circuit(parts: readonly object[]): Circuit {
  const { circuit: checked, issues } = checkCircuit({ parts }, standardKinds);
  expect(issues.filter((issue) => issue.severity === 'fault')).toEqual([]);
  return checked!;
}

const battery = { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9 };

function timer(family: string, pins: object): object {
  return { name: 'U1', kind: 'timer', family, pins: { supply: 'rail', ground: 'ground', output: 'out', ...pins } };
}

/** Two coupled states, a ramping supply and a pulse train: every kind of segment. */
function busy(family: string): Circuit {
  return circuit([
    { ...battery, resistance: 2, changes: [{ at: 0.01, voltage: 7, over: 0.02 }] },
    { name: 'R1', kind: 'resistor', a: 'rail', b: 'timing', resistance: 22e3 },
    { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-7 },
    { name: 'C2', kind: 'capacitor', a: 'control', b: 'ground', capacitance: 1e-8 },
    timer(family, { trigger: 'in', threshold: 'timing', discharge: 'timing', control: 'control' }),
    {
      name: 'G1',
      kind: 'signal',
      plus: 'in',
      minus: 'ground',
      wave: { shape: 'pulses', period: 1e-3, width: 1e-4, rest: 9, pulse: 0 },
    },
  ]);
}

function listener(): Observer & { events: RunEvent[]; lengths: number[] } {
  const events: RunEvent[] = [];
  const lengths: number[] = [];
  return { events, lengths, event: (event) => events.push(event), segment: ({ length }) => lengths.push(length) };
}

test('LiveRun.advance() gives the events of one run, bit for bit, however the time is cut up', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('ideal', 'bipolar', 'cmos'),
      fc.array(fc.double({ min: 0, max: 0.05, noNaN: true }), { minLength: 1, maxLength: 8 }),
      (family, cuts) => {
        const whole = listener();
        runCircuit(busy(family), { until: 0.05, observers: [whole] });
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
  runCircuit(busy('ideal'), { until: 0.05, observers: [whole] });
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
        runCircuit(busy(family), { until: 0.05, observers: [whole] });
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
