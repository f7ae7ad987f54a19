import { describe, expect, test } from 'vitest';
import { passageBetween } from '#sim/engine/passage.ts';
import type { Program } from '#sim/engine/program.ts';
import { Situation } from '#sim/engine/situation.ts';
import type { Passage } from '#sim/engine/succession.ts';
import type { Law } from '#sim/network/element.ts';
import type { Mode } from '#sim/network/mode.ts';
import { compile, networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';
import { ModeState } from '../../support/mode-state.ts';

// Voltages after a passage are closed forms: capacitors keep their voltages, and where they are tied together charge is
// conserved. Modal states come from voltages and go back to them by the plain equations of `ModeState`; a dozen products
// of a mode's rounded numbers are off by less than 1e-13 of a few volts.
const DIGITS = 13;

const program = { currents: [] } as unknown as Program;

interface Inputs {
  readonly values: readonly number[];
  readonly slopes?: readonly number[];
}

function situationOf(mode: Mode, { values, slopes = values.map(() => 0) }: Inputs): Situation {
  const inputs = Float64Array.of(...values, 1);
  const inputSlopes = Float64Array.of(...slopes, 0);
  return new Situation(program, mode, { pieces: [], states: [], inputs, inputSlopes, recurs: true }, 10, []);
}

/** The modal state that capacitor voltages make, as an array. */
function stateOf(mode: Mode, voltages: readonly number[], inputs: Inputs): number[] {
  return new ModeState(mode, voltages, inputs).stateAt(0);
}

function applied({ matrix, offset }: Passage, state: readonly number[]): Float64Array {
  return offset.map((value, k) => state.reduce((sum, z, i) => sum + matrix[k * state.length + i]! * z, value));
}

/** Voltages of all capacitors right after a passage from one mode to another. */
function voltagesAfter(from: Mode, to: Mode, voltages: readonly number[], inputs: readonly [Inputs, Inputs]): number[] {
  const [one, two] = [situationOf(from, inputs[0]), situationOf(to, inputs[1])];
  const z = applied(passageBetween(one, two, 0, voltages.length), stateOf(from, voltages, inputs[0]));
  return to.capacitorVoltages.all().map((readout) => two.valueOf(readout, z as Float64Array<ArrayBuffer>, 0));
}

function expectVolts(found: readonly number[], expected: readonly number[]): void {
  expect(found.length).toBe(expected.length);
  expected.forEach((value, c) => expect(found[c]).toBeCloseTo(value, DIGITS));
}

/** A source at node 1; 3 uF from there to node 2 and 1 uF on to ground, 1 Mohm across each. */
const wired: readonly Wired[] = [
  [1, 0, thevenin(0, 0, 0)],
  [1, 2, thevenin(1e6)],
  [2, 0, thevenin(1e6)],
];
const divider = networkOf(3, wired, [
  [1, 2, 3e-6],
  [2, 0, 1e-6],
]);
const lawsOf = (list: readonly Wired[]): Law[] => list.map(([, , law]) => law);

describe('passageBetween() within a mode', () => {
  const mode = compile(divider, lawsOf(wired));

  test('changes nothing where no input jumps', () => {
    const situation = situationOf(mode, { values: [4] });
    const passage = passageBetween(situation, situationOf(mode, { values: [4] }), 0.5, 2);
    expect(passage.same).toBe(true);
    expect([...passage.matrix]).toEqual([1]);
    expect([...passage.offset]).toEqual([0]);
  });

  test('shares a jump of the source between capacitors in series: 3/4 of it across the smaller', () => {
    const inputs = [{ values: [4] }, { values: [8] }] as const;
    const passage = passageBetween(situationOf(mode, inputs[0]), situationOf(mode, inputs[1]), 0, 2);
    expect(passage.same).toBe(false);
    // 1 V and 3 V before; charge that comes through is the same for both, 3 uF * 1 V = 1 uF * 3 V more.
    expectVolts(voltagesAfter(mode, mode, [1, 3], inputs), [2, 6]);
  });

  test('counts what the source was at the end: a ramp of 2 V/s from 4 V is at 5 V after half a second', () => {
    const ramp = situationOf(mode, { values: [4], slopes: [2] });
    const passage = (volts: number): Passage => passageBetween(ramp, situationOf(mode, { values: [volts] }), 0.5, 2);
    expect(passage(5).same).toBe(true);
    expect(passage(4).same).toBe(false);
    // A fall by 1 V takes 3/4 V off the smaller one, 1/4 V off the larger one: as seen by the state, at the new source.
    const z = applied(passage(4), stateOf(mode, [1, 4], { values: [5] }));
    const after = situationOf(mode, { values: [4] });
    const found = mode.capacitorVoltages.all().map((each) => after.valueOf(each, z as Float64Array<ArrayBuffer>, 0));
    expectVolts(found, [0.75, 3.25]);
  });

  test('keeps each of several states to itself', () => {
    const two = compile(
      networkOf(
        3,
        [
          [1, 0, thevenin(3.3e3)],
          [1, 2, thevenin(4.7e3)],
        ],
        [
          [1, 0, 2.2e-6],
          [2, 0, 6.8e-6],
        ],
        0,
      ),
      [thevenin(3.3e3), thevenin(4.7e3)],
    );
    const passage = passageBetween(situationOf(two, { values: [] }), situationOf(two, { values: [] }), 1, 2);
    expect(passage.same).toBe(true);
    expect([...passage.matrix]).toEqual([1, 0, 0, 1]);
    expect([...passage.offset]).toEqual([0, 0]);
  });
});

describe('passageBetween() from mode to mode', () => {
  /** Two capacitors, 3 uF and 1 uF, each with 1 Mohm, and a switch between them; an input that is nowhere near. */
  const pair: readonly Wired[] = [
    [1, 0, thevenin(1e6)],
    [2, 0, thevenin(1e6)],
    [1, 2, { kind: 'open' }],
    [3, 0, thevenin(1, 0, 0)],
  ];
  const network = networkOf(4, pair, [
    [1, 0, 3e-6],
    [2, 0, 1e-6],
  ]);
  const withSwitch = (law: Law): Mode => compile(network, [...lawsOf(pair.slice(0, 2)), law, thevenin(1, 0, 0)]);
  const open = withSwitch({ kind: 'open' });
  const closed = withSwitch(thevenin(0));
  const inputs = [{ values: [5] }, { values: [5] }] as const;

  test('conserves charge where capacitors are tied together: (3 * 8 + 1 * 4) / 4 = 7 V', () => {
    expectVolts(voltagesAfter(open, closed, [8, 4], inputs), [7, 7]);
  });

  test('leaves capacitors that part with what they had', () => {
    expectVolts(voltagesAfter(closed, open, [7, 7], inputs), [7, 7]);
  });

  test('keeps voltages across modes whose rates differ', () => {
    expectVolts(voltagesAfter(open, withSwitch(thevenin(1e5)), [8, 4], inputs), [8, 4]);
    expectVolts(voltagesAfter(withSwitch(thevenin(1e5)), open, [8, 4], inputs), [8, 4]);
  });

  test('says that the state stays where both modes have the same vectors and the voltages stay', () => {
    const [one, two] = [withSwitch({ kind: 'open' }), withSwitch({ kind: 'open' })];
    const passage = passageBetween(situationOf(one, inputs[0]), situationOf(two, inputs[1]), 0, 2);
    expect(passage.same).toBe(true);
    const other = passageBetween(situationOf(one, inputs[0]), situationOf(withSwitch(thevenin(1e5)), inputs[1]), 0, 2);
    expect(other.same).toBe(false);
    expect(passageBetween(situationOf(one, inputs[0]), situationOf(closed, inputs[1]), 0, 2).same).toBe(false);
    expect(passageBetween(situationOf(closed, inputs[0]), situationOf(one, inputs[1]), 0, 2).same).toBe(false);
  });

  test('takes a capacitor to the voltage of a source that is put across it, at the value it has then', () => {
    const across = networkOf(2, [[1, 0, thevenin(0, 0, 0)]], [[1, 0, 1e-6]]);
    const off = compile(across, [{ kind: 'open' }]);
    const on = compile(across, [thevenin(0, 0, 0)]);
    expectVolts(voltagesAfter(off, on, [2], [{ values: [5] }, { values: [6] }]), [6]);
    // And back: what it had is what the source had at the end, a ramp of 4 V/s from 1 V after 0.25 s.
    const ramp = situationOf(on, { values: [1], slopes: [4] });
    const parted = situationOf(off, { values: [9] });
    const z = applied(passageBetween(ramp, parted, 0.25, 1), []) as Float64Array<ArrayBuffer>;
    expect(parted.valueOf(off.capacitorVoltages.at(0), z, 0)).toBeCloseTo(2, DIGITS);
  });

  test('moves a capacitor in series with the source of the new mode: only the jump is shared', () => {
    const mode = compile(divider, lawsOf(wired));
    const other = compile(divider, [thevenin(0, 0, 0), thevenin(1e5), thevenin(1e6)]);
    expectVolts(
      voltagesAfter(mode, other, [1, 3], [{ values: [4] }, { values: [8] }]),
      // As within a mode, by the same charge.
      [2, 6],
    );
  });

  test('holds the last voltage of a net that nothing ties to ground any more', () => {
    // 4 V behind 1 kohm at node 1, a switch of 1 kohm to node 2, which has nothing else; 1 uF at node 1.
    const loose = networkOf(
      3,
      [
        [1, 0, thevenin(1e3)],
        [1, 2, thevenin(1e3)],
      ],
      [[1, 0, 1e-6]],
    );
    const tied = compile(loose, [thevenin(1e3, 4), thevenin(1e3)]);
    const left = compile(loose, [thevenin(1e3, 4), { kind: 'open' }]);
    expect(left.held).toEqual([2]);
    const from = situationOf(tied, { values: [0] });
    const to = situationOf(left, { values: [0] });
    const z = applied(passageBetween(from, to, 0, 1), stateOf(tied, [3], { values: [0] }));
    expect(to.valueOf(left.nodes.at(2), z as Float64Array<ArrayBuffer>, 0)).toBeCloseTo(3, DIGITS);
    expect(to.valueOf(left.nodes.at(1), z as Float64Array<ArrayBuffer>, 0)).toBeCloseTo(3, DIGITS);
  });
});
