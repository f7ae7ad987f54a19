import { expect, test } from 'vitest';
import { readyBoards } from '#sim/board/index.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../support/circuit-issues.ts';
import { nodalModelOf } from '../support/nodal/read-circuit.ts';
import { NodalRun } from '../support/nodal/run.ts';

/** Intervals into which the time that a latch stays set is cut, coarse to fine. */
const STEPS = [200, 400, 800, 1600];
/** The method's order, and how far the observed one may be from it. */
const [ORDER, BAND] = [1, 0.1];
/** Long enough for every ready board to be set and cleared (s). */
const UNTIL = 8;

interface Told {
  readonly part: string;
  readonly kind: string;
  readonly time: number;
}

/** How long the latch first stayed set, complete times only (s). */
function setTime(events: readonly Told[]): number {
  const cleared = events.findIndex(({ kind, time }) => kind === 'cleared' && time > 0);
  const set = events.slice(0, cleared).findLast(({ kind }) => kind === 'set');
  if (set === undefined) throw new Error('the latch must be set and cleared');
  return events[cleared]!.time - set.time;
}

test.for([...readyBoards])('implicit Euler steps converge to the %s at their order', ([, board]) => {
  const circuit = circuitOf(board.circuit.parts);
  const events: Told[] = [];
  runCircuit(circuit, { until: UNTIL, maxEvents: 200, observers: [{ event: (event) => events.push(event) }] });
  const exact = setTime(events);
  const errors = STEPS.map((count) => {
    const options = { until: UNTIL, mostEvents: 12, lift: 0, margin: 0, step: exact / count };
    return Math.abs(setTime(new NodalRun(nodalModelOf(circuit, UNTIL), options).run().events) - exact) / exact;
  });
  for (let k = 1; k < STEPS.length; k++) {
    const order = Math.log(errors[k - 1]! / errors[k]!) / Math.log(STEPS[k]! / STEPS[k - 1]!);
    expect(Math.abs(order - ORDER), `errors ${errors.join(', ')}`).toBeLessThanOrEqual(BAND);
  }
});
