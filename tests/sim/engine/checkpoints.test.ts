import { expect, test } from 'vitest';
import { LiveRun } from '#sim/run/live-run.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { astable } from '../../support/timer-circuits.ts';

test('a checkpoint of a run that has just been taken up is the checkpoint it was taken up from', () => {
  const board = circuitOf(
    astable({ voltage: 9, first: 1e3, second: 10e3, capacitance: 1e-7, ofTimer: { family: 'bipolar' } }),
  );
  const run = new LiveRun(board);
  run.advance(0.01);
  const kept = run.checkpoint();
  const again = new LiveRun(board, { from: kept }).checkpoint();
  const byName = (roots: NonNullable<typeof kept>['roots']): unknown =>
    Object.fromEntries(roots.map(({ situation, ...rest }) => [situation, rest]));
  expect({ ...again, roots: byName(again!.roots) }).toEqual({ ...kept, roots: byName(kept!.roots) });
});
