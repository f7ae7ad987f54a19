import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runCircuit } from '#sim/run/simulate.ts';
import '../support/costly-runs.ts';
import { BalanceWatch } from '../support/balance-watch.ts';
import { everyBoard, type LawCase, randomCases, turnedBoards } from '../support/law-cases.ts';

/** Events that a run may take here; the balance of a run that stops there must hold as well. */
const BUDGET = 1000;

function balance({ circuit, until }: LawCase, energy: boolean): void {
  const watch = new BalanceWatch(circuit, until, energy);
  const { code } = runCircuit(circuit, { until, observers: [watch], maxEvents: BUDGET });
  expect(['reached', 'short', 'rings', 'grows', 'undecided', 'alike', 'curves', 'chatter', 'budget']).toContain(code);
}

/**
 * What sources without resistance give, no current of a part shows: a supply that steps gives any charge in no time, and
 * of a finger only the current through the skin is told, not that of the mains around it.
 */
function withResistance(drawn: LawCase): LawCase {
  const parts = drawn.circuit.parts.map((part) => {
    if (part.kind === 'supply' && part.values['resistance'] === 0)
      return { ...part, values: { ...part.values, resistance: 0.1 } };
    return part.kind === 'finger' ? { ...part, values: { ...part.values, hum: 0 } } : part;
  });
  return { ...drawn, circuit: { ...drawn.circuit, parts } };
}

describe('over a whole run', () => {
  test.for(everyBoard)('$name: charge is kept on every net', (board) => balance(board, false));

  test('charge is kept on every net of boards with other values and families, jumps included', () => {
    const boards = turnedBoards(['ideal', 'cmos', 'bipolar']);
    fc.assert(fc.property(boards, (drawn) => balance(drawn, false)));
  });

  test('charge is kept on every net of random circuits, jumps by contacts without resistance included', () => {
    const circuits = randomCases({ timers: [0, 3], ramps: true, abrupt: true, real: false });
    fc.assert(fc.property(circuits, (drawn) => balance(drawn, false)));
  });

  test('charge and energy are kept in random circuits with transistors that amplify', () => {
    const options = { timers: [0, 2], ramps: true, abrupt: false, real: true, amplifiers: [1, 3] } as const;
    fc.assert(fc.property(randomCases(options).map(withResistance), (drawn) => balance(drawn, true)));
  });

  test('sources give the energy that all else takes in and capacitors gain, on boards of real timers', () => {
    fc.assert(fc.property(turnedBoards(['cmos', 'bipolar']), (drawn) => balance(drawn, true)));
  });

  test('sources give the energy that all else takes in and capacitors gain, in random circuits of real timers', () => {
    const circuits = randomCases({ timers: [0, 3], ramps: true, abrupt: false, real: true });
    fc.assert(fc.property(circuits.map(withResistance), (drawn) => balance(drawn, true)));
  });
});
