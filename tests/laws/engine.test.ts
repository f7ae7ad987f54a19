import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Part } from '#sim/circuit/description.ts';
import type { TimerParameters } from '#sim/device/families.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import type { Outcome } from '#sim/engine/outcome.ts';
import { buildProgram, type Program } from '#sim/engine/program.ts';
import { SituationGraph } from '#sim/engine/situation-graph.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import { wiredAlike } from '#sim/engine/wired-alike.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import type { Observer } from '#sim/trace/observer.ts';
import '../support/costly-runs.ts';
import { everyBoard, type LawCase, randomCases, turnedBoards } from '../support/law-cases.ts';
import { everything, renumbered } from '../support/shown-run.ts';
import { Watchman } from '../support/watch-run.ts';

/** Everything there is, wild, and the boards. */
const anything = fc.oneof(
  { arbitrary: randomCases({ timers: [0, 3], ramps: true, abrupt: true, real: false }), weight: 5 },
  turnedBoards(['ideal', 'cmos', 'bipolar']),
);

/** Events that a run may take here, so that an oscillator beside a long input ends as well. */
const BUDGET = 1000;

function run({ circuit, until }: LawCase, ...observers: readonly Observer[]): Outcome {
  return runCircuit(circuit, { until, observers, maxEvents: BUDGET });
}

/** Whether a part can switch without end at one instant: it acts at once on what it watches. */
function actsAtOnce(part: Part | undefined): boolean {
  if (part?.kind === 'transistor') return true;
  return part?.kind === 'timer' && (part.values['parameters'] as TimerParameters).delay === 0;
}

describe('any run', () => {
  test('ends as one of the listed outcomes; comparators, diodes, charges and numbers are right on a dense grid', () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const watchman = new Watchman(drawn.circuit);
        const outcome = run(drawn, watchman);
        expect(outcome.ok).toBe(outcome.code === 'reached');
        expect(['reached', 'short', 'rings', 'grows', 'undecided', 'alike', 'curves', 'chatter', 'budget']).toContain(
          outcome.code,
        );
        expect(outcome.events).toBeLessThanOrEqual(BUDGET + 1);
        // The double nearest to a two-part time may lie just beyond.
        expect(outcome.time).toBeLessThanOrEqual(drawn.until * (1 + Number.EPSILON));
        if (outcome.ok) return;
        expect(outcome.message).toMatch(/\.$/);
        const parts = (outcome.parts ?? []).map((name) => drawn.circuit.parts.find((part) => part.name === name));
        expect(parts).not.toContain(undefined);
        if (outcome.code === 'chatter') expect(parts.some(actsAtOnce)).toBe(true);
      }),
    );
  });

  test('in a graph that has run the same circuit with other numbers is the same, bit for bit', () => {
    fc.assert(
      fc.property(
        anything,
        fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), { minLength: 8, maxLength: 8 }),
        (drawn, factors) => {
          const programs = [drawn.circuit, renumbered(drawn.circuit, factors), drawn.circuit].map((circuit) =>
            buildProgram(circuit, standardDevices),
          ) as [Program, Program, Program];
          const graph = new SituationGraph(programs[0], voltScale(programs[0]));
          for (const [turn, program] of programs.entries()) {
            fc.pre(wiredAlike(programs[0], program));
            if (turn > 0) fc.pre(graph.renew(program, voltScale(program)));
            expect(everything(program, drawn.until, BUDGET, graph)).toEqual(everything(program, drawn.until, BUDGET));
          }
        },
      ),
      { examples: everyBoard.map((board): [LawCase, number[]] => [board, [1.1, 0.9, 1.3, 0.7, 1.05, 0.95, 1.2, 0.8]]) },
    );
  });

  test('done twice is the same, bit for bit', () => {
    fc.assert(
      fc.property(anything, (drawn) => {
        const program = buildProgram(drawn.circuit, standardDevices);
        expect(everything(program, drawn.until, BUDGET)).toEqual(everything(program, drawn.until, BUDGET));
      }),
      { examples: everyBoard.map((board): [LawCase] => [board]) },
    );
  });
});
