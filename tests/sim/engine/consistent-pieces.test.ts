import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { consistentPieces } from '#sim/engine/consistent-pieces.ts';
import { GuardCheck } from '#sim/engine/guard-check.ts';
import { buildProgram } from '#sim/engine/program.ts';
import type { Situation } from '#sim/engine/situation.ts';
import { SituationGraph } from '#sim/engine/situation-graph.ts';
import { voltScale } from '#sim/engine/volt-scale.ts';
import { spread } from '../../support/arbitrary-numbers.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { net, nets } from '../../support/random-nets.ts';
import type { FilePart } from '../../support/run-board.ts';
import { storedRun } from '../../support/stored-run.ts';
import { capacitor, resistor, supply } from '../../support/timer-circuits.ts';

/** A transistor with a gain, between its base, collector and emitter. */
function transistor(name: string, polarity: string, joined: readonly [string, string, string], more: object): FilePart {
  const [base, collector, emitter] = joined;
  return { name, kind: 'transistor', polarity, base, collector, emitter, ...more };
}

/**
 * The bell driver of Fernhollow Junction, wired wrongly: the base of either transistor hangs on the other one. While T2 is
 * taken to conduct into T1, T1 has no consistent piece, so moving one branch at a time goes back and forth.
 */
const crossed: readonly FilePart[] = [
  supply(10),
  resistor('R1', 'e', 'rail', 400e3),
  resistor('R2', 'x', 'rail', 60e3),
  resistor('R3', 'y', 'ground', 40e3),
  capacitor('C1', 'c', 'rail', 20e-9, { initial: -5 }),
  transistor('T1', 'npn', ['x', 'c', 'e'], { forward: 1, saturation: 0.1, slope: 1, gain: 20 }),
  transistor('T2', 'pnp', ['y', 'x', 'e'], { forward: 1, saturation: 0.05, slope: 5, gain: 50 }),
];

describe('a run in which branches find no rest one by one', () => {
  test('begins in the state that is consistent', () => {
    const trace = storedRun(crossed, 1e-6);
    // By hand: x lies above e by the forward voltage of T1, so T2, whose collector it is, has no current in it. T1 is
    // saturated: its collector stands at 5 V. All currents into e go through the base of T2, and are 0 A together:
    // (10 - e) / 400k + (9 - e) / (60k + 1) + (4.9 - e) / 1 = (e - 1) / (40k + 5).
    const conductances = [1 / 400e3, 1 / 60001, 1, 1 / 40005];
    const driven = 10 * conductances[0]! + 9 * conductances[1]! + 4.9 * conductances[2]! + conductances[3]!;
    const e = driven / conductances.reduce((sum, one) => sum + one, 0);
    expect(trace.at({ net: 'c' }, 0)).toBeCloseTo(5, 12);
    expect(trace.at({ net: 'e' }, 0)).toBeCloseTo(e, 12);
    expect(trace.at({ net: 'x' }, 0)).toBeCloseTo(e + 1 + (9 - e) / 60001, 12);
  });
});

/** Where a circuit begins, with all branches in the pieces they start in. */
function beginning(parts: readonly FilePart[]) {
  const program = buildProgram(circuitOf(parts), standardDevices);
  const graph = new SituationGraph(program, voltScale(program));
  const inputs = Float64Array.from([...program.inputs.map(({ wave }) => (wave as { level: number }).level), 1]);
  const at = (pieces: readonly number[]): { situation: Situation; z: Float64Array } => {
    const settled = { pieces, states: program.reactors.map(({ start }) => start), recurs: true };
    const situation = graph.find({ ...settled, inputs, inputSlopes: new Float64Array(inputs.length) });
    if ('shortedParts' in situation) throw new Error(`short of ${situation.shortedParts.join()}`);
    const z = new Float64Array(graph.largestStateCount);
    graph.stateOf(situation, program.initial, [], z);
    return { situation, z };
  };
  return { program, graph, at, start: at(program.branches.map((branch) => branch.start)) };
}

describe('consistentPieces()', () => {
  const transistors = fc
    .array(
      fc.record({
        kind: fc.constant('transistor'),
        polarity: fc.constantFrom('npn', 'pnp'),
        base: net,
        collector: fc.constantFrom('rail', ...nets, ...nets),
        emitter: fc.constantFrom('ground', 'rail', ...nets),
        gain: spread(5, 500),
        forward: spread(0.3, 1),
        saturation: spread(0.02, 0.3),
        slope: spread(1, 50),
      }),
      { minLength: 2, maxLength: 5 },
    )
    .map((list) =>
      list
        .filter(({ base, collector, emitter }) => new Set([base, collector, emitter]).size === 3)
        .map((fields, k): FilePart => ({ name: `T${k}`, ...fields })),
    );
  const ties = fc
    .array(fc.tuple(fc.constantFrom('rail', 'ground', ...nets), spread(100, 1e6)), { minLength: 5, maxLength: 5 })
    .map((list) =>
      list.flatMap(([end, resistance], k): FilePart[] => [
        resistor(`R${k}`, nets[k]!, end === nets[k] ? 'ground' : end, resistance),
        // So that nothing floats, whatever the ties join.
        resistor(`RG${k}`, nets[k]!, 'ground', 1e6),
      ]),
    );
  const charged = fc
    .array(fc.record({ a: net, b: fc.constantFrom('ground', 'rail'), initial: fc.integer({ min: -8, max: 8 }) }), {
      maxLength: 2,
    })
    .map((list) => list.map(({ a, b, initial }, k) => capacitor(`C${k}`, a, b, 1e-7, { initial })));

  test('finds a consistent state of transistors that feed back as they happen to be joined', () => {
    fc.assert(
      fc.property(fc.tuple(transistors, ties, charged), ([amplifiers, resistors, capacitors]) => {
        // Of two capacitors on one net, the charge would be shared first.
        fc.pre(new Set(capacitors.map((part) => part['a'])).size === capacitors.length && amplifiers.length > 0);
        const { graph, at, start } = beginning([supply(10), ...resistors, ...capacitors, ...amplifiers]);
        const pieces = consistentPieces(graph, start.situation, start.z);
        expect(pieces).toBeDefined();
        const { situation, z } = at(pieces!);
        const { stateCount, rest, guards, constants, rows } = situation;
        guards.forEach((_, g) => {
          let value = constants[g]!;
          for (let k = 0; k < stateCount; k++) value += rows[g * stateCount + k]! * (z[k]! - rest[k]!);
          // V or A; a limit is met to rounding, which a mode that amplifies magnifies by its gains.
          expect(value).toBeLessThan(1e-9);
        });
      }),
    );
  });

  test('leaves a circuit without transistors that amplify to whoever asked', () => {
    const { graph, start } = beginning([
      supply(10),
      resistor('R1', 'rail', 'x', 1e3),
      { name: 'D1', kind: 'diode', a: 'x', b: 'ground' },
    ]);
    expect(new GuardCheck().pastLimit(start.situation, start.z)).toBeGreaterThanOrEqual(0);
    expect(consistentPieces(graph, start.situation, start.z)).toBeUndefined();
  });
});
