import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { CrossingFinder } from '#sim/engine/crossing.ts';
import { EndingSearch } from '#sim/engine/ending-search.ts';
import { ForeseenStep } from '#sim/engine/foreseen-step.ts';
import { GuardCheck } from '#sim/engine/guard-check.ts';
import { Outlook } from '#sim/engine/outlook.ts';
import { buildProgram } from '#sim/engine/program.ts';
import type { Situation } from '#sim/engine/situation.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import '../support/costly-runs.ts';
import { spread } from '../support/arbitrary-numbers.ts';
import { everyBoard, type LawCase, randomCases, turnedBoards } from '../support/law-cases.ts';
import { LookingGraph } from '../support/looking-graph.ts';
import { everything } from '../support/shown-run.ts';

const EPSILON = Number.EPSILON;
const VOLTS = 16;

/** A guard as a straight line over the state: its limit (in states of some volts), how steep it is, and which way. */
interface Line {
  readonly limit: number;
  readonly steep: number;
  readonly up: boolean;
  readonly moves: boolean;
}

const line: fc.Arbitrary<Line> = fc.record({
  limit: fc.oneof(fc.double({ min: -VOLTS, max: VOLTS, noNaN: true }), fc.constantFrom(0, 3, 6)),
  steep: fc.oneof({ arbitrary: fc.constant(1), weight: 4 }, spread(1e-3, 1), fc.constant(0)),
  up: fc.boolean(),
  moves: fc.boolean(),
});

/** Where a state is: anywhere, where it tends to, or so many tolerances from a limit, or some bits. */
const place = fc.oneof(
  fc.double({ min: -VOLTS, max: VOLTS, noNaN: true }),
  fc.record({ near: fc.nat(3), tolerances: fc.double({ min: -8, max: 8, noNaN: true }) }),
  fc.record({ near: fc.nat(3), bits: fc.integer({ min: -20, max: 20 }) }),
  fc.constant('rest' as const),
);

/** A situation of one state that tends to `rest` with these guards; a guard without a slope lies where its limit says. */
function situationOf(lines: readonly Line[], rest: number, rate: number): Situation {
  const rows = lines.map(({ steep, up }) => (up ? steep : -steep));
  const constants = lines.map(({ limit }, g) => (rows[g] === 0 ? limit : rows[g]! * (rest - limit)));
  return {
    ...{ stateCount: 1, idle: 0, steady: true, grows: false, likely: -1 },
    rates: Float64Array.of(rate),
    rest: Float64Array.of(rest),
    rows: Float64Array.from(rows),
    constants: Float64Array.from(constants),
    slopes: new Float64Array(lines.length),
    tolerances: Float64Array.from(constants, (constant) => 32 * EPSILON * VOLTS + 16 * EPSILON * Math.abs(constant)),
    scales: new Float64Array(lines.length).fill(1),
    roots: new Float64Array(lines.length),
    guards: lines.map(({ moves }, g) => ({ code: g, guard: moves ? undefined : {} })),
  } as unknown as Situation;
}

/** What a look at the guards says: which one fires, -1 for none, and when (s), 0 for at once. */
function looked(situation: Situation, z: number): { guard: number; time: number } {
  const check = new GuardCheck();
  const firing = check.pastLimit(situation, Float64Array.of(z - situation.rest[0]!));
  if (firing >= 0) return { guard: firing, time: 0 };
  const search = new EndingSearch(new CrossingFinder(1), check);
  search.length = Infinity;
  const guard = search.run(situation);
  return { guard, time: search.length };
}

test('Outlook.covers() a state only where a look at the guards says the same, to the last bit', () => {
  let [covered, clear] = [0, 0];
  fc.assert(
    fc.property(
      fc.array(line, { maxLength: 4 }),
      fc.double({ min: -VOLTS, max: VOLTS, noNaN: true }),
      spread(1e-3, 1e6),
      fc.array(place, { minLength: 1, maxLength: 12 }),
      (lines, rest, rate, places) => {
        const situation = situationOf(lines, rest, rate);
        const outlook = new Outlook();
        for (const each of places) {
          let z = rest;
          if (typeof each === 'number') z = each;
          else if (each !== 'rest' && lines.length > 0) {
            const { limit, steep } = lines[each.near % lines.length]!;
            const unit =
              'bits' in each
                ? EPSILON * 8
                : situation.tolerances[each.near % lines.length]! / (steep === 0 ? 1 : steep);
            z = limit + unit * ('bits' in each ? each.bits : each.tolerances);
          }
          const isCovered = outlook.covers(situation, z);
          const { guard, time } = looked(situation, z);
          const values = lines.map((_, g) => situation.constants[g]! + situation.rows[g]! * (z - rest));
          const far = (value: number, g: number): boolean => Math.abs(value) > 64 * situation.tolerances[g]!;
          // Far from all limits, with none that is only approached and no two at one place, nothing stands in its way.
          const ways = lines.flatMap(({ steep }, g) => (steep === 0 ? [] : situation.constants[g]! / steep)).sort();
          const apart = ways.every((way, k) => k === 0 || Math.abs(way - ways[k - 1]!) > 1e-6);
          if (apart && values.every(far) && [...situation.constants].every(far)) {
            clear++;
            expect(isCovered).toBe(true);
          }
          if (!isCovered) continue;
          covered++;
          expect([outlook.guard, outlook.atOnce]).toEqual([guard, time === 0]);
          if (outlook.atOnce) expect(outlook.moves).toBe(lines[guard]!.moves);
          else if (guard >= 0) expect(-Math.log(-outlook.level / (outlook.row * (z - rest))) / rate).toBe(time);
        }
      },
    ),
    { numRuns: 20 * Number(process.env['LAWS_RUNS'] ?? 100) },
  );
  expect(covered).toBeGreaterThan(100);
  expect(clear).toBeGreaterThan(100);
});

test('a run whose steps are foreseen is the one whose guards are looked at every time, bit for bit', () => {
  const taken = vi.spyOn(ForeseenStep.prototype, 'take');
  const same = ({ circuit, until }: LawCase): void => {
    const program = buildProgram(circuit, standardDevices);
    const graph = new LookingGraph(program, voltScale(program));
    const before = taken.mock.calls.length;
    const expected = everything(program, until, 300, graph);
    expect(taken.mock.calls.length).toBe(before);
    expect(everything(buildProgram(circuit, standardDevices), until, 300)).toEqual(expected);
  };
  const cases = fc.oneof(
    randomCases({ timers: [0, 2], ramps: true, abrupt: true, real: false }),
    turnedBoards(['ideal', 'cmos', 'bipolar']),
  );
  fc.assert(fc.property(cases, same), { examples: everyBoard.map((each) => [each]) });
  expect(taken.mock.calls.length).toBeGreaterThan(1000);
});
