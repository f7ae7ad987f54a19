import { describe, expect, test } from 'vitest';
import { failureMessage } from '#sim/engine/outcome.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { astable, diode, resistor, supply, timer } from '../../support/timer-circuits.ts';

const fast = astable({ voltage: 9, first: 1e3, second: 1e3, capacitance: 1e-8 });

function run(parts: readonly FilePart[], until: number, more: object = {}) {
  const trace = new StoredTrace();
  return { outcome: runCircuit(circuitOf(parts), { until, observers: [trace], ...more }), trace };
}

describe('outcome reached', () => {
  test('tells the time asked for and says nothing', () => {
    const { outcome, trace } = run(fast, 1e-3);
    expect(outcome).toMatchObject({ code: 'reached', ok: true, time: 1e-3 });
    expect(outcome.message).toBeUndefined();
    expect(trace.endTime).toBe(1e-3);
  });

  test('a run of no length settles time 0 and ends', () => {
    const { outcome, trace } = run(fast, 0);
    expect(outcome).toMatchObject({ code: 'reached', time: 0 });
    expect(trace.segmentCount).toBe(0);
  });

  test('a time that is none is a mistake of the caller', () => {
    for (const until of [Number.NaN, -1, Number.POSITIVE_INFINITY]) {
      expect(() => run(fast, until)).toThrow(RangeError);
    }
  });
});

describe('outcome short', () => {
  test('a button across the supply ends the run when it is pressed, names both, keeps all before', () => {
    const parts: FilePart[] = [
      supply(9),
      resistor('R1', 'rail', 'ground', 1e3),
      { name: 'S1', kind: 'button', a: 'rail', b: 'ground', presses: [{ at: 0.5, for: 0.1 }] },
    ];
    const { outcome, trace } = run(parts, 1);
    expect(outcome).toMatchObject({ code: 'short', ok: false, time: 0.5 });
    expect([...outcome.parts!].sort()).toEqual(['BT1', 'S1']);
    expect(outcome.message).toMatch(
      /(BT1, S1|S1, BT1) are joined with no resistance between different voltages\. Put a resistance/,
    );
    expect(trace.at({ net: 'rail' }, 0.25)).toBe(9);
    expect(trace.endTime).toBe(0.5);
  });

  test('with any resistance in the way the same press is no short', () => {
    const parts: FilePart[] = [
      supply(9, { resistance: 0.1 }),
      resistor('R1', 'rail', 'ground', 1e3),
      { name: 'S1', kind: 'button', a: 'rail', b: 'ground', presses: [{ at: 0.5, for: 0.1 }] },
    ];
    expect(run(parts, 1).outcome.code).toBe('reached');
  });

  test('two ideal outputs on one net are a short as soon as they differ', () => {
    const parts: FilePart[] = [
      supply(9),
      timer('U1', { trigger: 'a', threshold: 'ground', output: 'out' }),
      timer('U2', { trigger: 'rail', threshold: 'ground', output: 'out' }),
      resistor('R1', 'rail', 'a', 1e3),
      { name: 'S1', kind: 'button', a: 'a', b: 'ground', presses: [{ at: 0.5, for: 0.1 }] },
    ];
    const { outcome } = run(parts, 1);
    expect(outcome).toMatchObject({ code: 'short', time: 0.5 });
    expect(outcome.parts).toEqual(expect.arrayContaining(['U1', 'U2']));
  });

  test('a pot at its end on an ideal discharge switch is a short', () => {
    const parts: FilePart[] = [
      supply(9),
      timer('U1', { trigger: 'rail', threshold: 'ground', output: 'out', discharge: 'pin' }),
      { name: 'P1', kind: 'pot', a: 'rail', wiper: 'pin', b: 'end', resistance: 10e3, position: 0 },
      resistor('R1', 'end', 'ground', 1e3),
    ];
    // Beside a net that only a current and a diode hold, whose first voltage is looked for first.
    const lamp: FilePart[] = [
      { name: 'I1', kind: 'source', a: 'rail', b: 'x', current: 1e-3, headroom: 0.5 },
      diode('D1', 'x', 'ground'),
    ];
    for (const more of [[], lamp]) {
      const { outcome } = run([...parts, ...more], 1);
      expect(outcome).toMatchObject({ code: 'short', time: 0 });
      expect([...outcome.parts!].sort()).toEqual(['BT1', 'P1', 'U1']);
    }
  });
});

describe('outcome budget', () => {
  test('ends after the events allowed, says how many, keeps all before', () => {
    const { outcome, trace } = run(fast, 1, { maxEvents: 1000 });
    expect(outcome).toMatchObject({ code: 'budget', ok: false });
    expect(outcome.message).toBe('The run used up its 1000 events. Ask for a shorter time or slower inputs.');
    expect(outcome.time).toBeGreaterThan(5e-3);
    expect(outcome.time).toBeLessThan(1);
    expect(trace.endTime).toBeCloseTo(outcome.time, 9);
    expect(trace.events.length).toBeGreaterThan(900);
  });
});

describe('outcome stopped', () => {
  test('a run is stopped from outside within some thousand events, and keeps what it has', () => {
    const signal = { aborted: false };
    const shares: number[] = [];
    const { outcome, trace } = run(fast, 10, {
      signal,
      onProgress: (share: number) => {
        shares.push(share);
        if (shares.length === 3) signal.aborted = true;
      },
    });
    expect(outcome).toMatchObject({ code: 'stopped', ok: false, message: 'The run was stopped.' });
    expect(outcome.events).toBeLessThanOrEqual(5 * 4096);
    expect(outcome.time).toBeGreaterThan(0);
    expect(trace.segmentCount).toBeGreaterThan(1000);
    expect(shares).toHaveLength(3);
  });

  test('progress is a share that grows', () => {
    const shares: number[] = [];
    run(fast, 0.5, { onProgress: (share: number) => shares.push(share) });
    expect(shares.length).toBeGreaterThan(2);
    shares.forEach((share, k) => {
      expect(share).toBeGreaterThan(k === 0 ? 0 : shares[k - 1]!);
      expect(share).toBeLessThanOrEqual(1);
    });
  });
});

describe('failureMessage()', () => {
  test('speaks of one part or of several', () => {
    expect(failureMessage('grows', ['T1'], 0)).toMatch(
      /^T1 drives what drives it further and further, and no state was found in which it rests\./,
    );
    expect(failureMessage('grows', ['T1', 'T2'], 0)).toMatch(
      /^T1, T2 drive what drives them further and further, and no state was found in which they rest\./,
    );
    expect(failureMessage('rings', ['T1'], 0)).toMatch(/^What T1 feeds back/);
    expect(failureMessage('rings', ['T1', 'T2'], 0)).toMatch(/^What T1, T2 feed back/);
    expect(failureMessage('curves', ['T1'], 0)).toMatch(/^What T1 passes on/);
    expect(failureMessage('curves', ['T1', 'T2'], 0)).toMatch(/^What T1, T2 pass on/);
  });
});
