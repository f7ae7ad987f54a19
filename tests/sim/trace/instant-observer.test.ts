import { describe, expect, it } from 'vitest';
import { instantObserver } from '#sim/trace/instant-observer.ts';
import { charging, type MadeRun, play } from '../../support/made-run.ts';

/** `timing` charges for 0.3 s, is emptied in an instant and rests for 0.2 s. */
const run: MadeRun = {
  nets: ['ground', 'timing'],
  currents: ['R1'],
  steps: [
    { length: 0.3, signals: { timing: charging(0, 12, 0.4), 'current(R1)': charging(1e-3, 0, 0.4) } },
    { event: { part: 'U1', kind: 'cleared', cause: 'thresholdOver' } },
    { length: 0.2, signals: { 'current(R1)': 1e-3 } },
  ],
};

function at(times: readonly number[]) {
  const observer = instantObserver(times);
  play(run, observer);
  return observer.result();
}

describe('instantObserver(times)', () => {
  it('gives the exact value of every net and current, however far from an event', () => {
    const [row] = at([0.123]);
    // Closed form of the charge that the run is made of; both sides evaluate one exponential.
    expect(row?.nets.get('timing')).toBeCloseTo(12 * (1 - Math.exp(-0.123 / 0.4)), 14);
    expect(row?.currents.get('R1')).toBeCloseTo(1e-3 * Math.exp(-0.123 / 0.4), 14);
  });

  it('gives the value after a jump, and the one at time 0', () => {
    expect(at([0.3, 0]).map((row) => [row.time, row.nets.get('timing')])).toEqual([
      [0, 0],
      [0.3, 0],
    ]);
  });

  it('counts a time that misses the jump by rounding as the jump', () => {
    expect(at([0.3 * (1 - Number.EPSILON)])[0]?.nets.get('timing')).toBe(0);
    expect(at([0.3 * (1 - 1e-9)])[0]?.nets.get('timing')).toBeGreaterThan(6);
  });

  it('has several times within one stretch, each once, and none beyond the run', () => {
    expect(at([0.2, 0.1, 0.1, 0.7]).map(({ time }) => time)).toEqual([0.1, 0.2]);
  });
});
