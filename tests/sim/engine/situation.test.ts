import { describe, expect, test } from 'vitest';
import type { ArmedGuard } from '#sim/engine/armed-guards.ts';
import type { Program } from '#sim/engine/program.ts';
import { Situation } from '#sim/engine/situation.ts';
import type { Mode } from '#sim/network/mode.ts';
import { modeOf, thevenin } from '../../support/compiled-mode.ts';
import { ModeState } from '../../support/mode-state.ts';

// Expected values are closed forms of a resistance and a capacitor, beside each. A mode's numbers are rounded a few times.

const EPSILON = Number.EPSILON;
/** A whole circuit to show: node voltages, and the current of the resistor and of the capacitor with either sign. */
const program = {
  currents: [
    { part: 'R1', elements: [{ element: 'branch', index: 1, sign: 1 }] },
    { part: 'C1', elements: [{ element: 'capacitor', index: 0, sign: -1 }] },
    {
      part: 'both',
      elements: [
        { element: 'branch', index: 1, sign: 1 },
        { element: 'capacitor', index: 0, sign: 1 },
      ],
    },
  ],
} as unknown as Program;

interface Inputs {
  readonly values: readonly number[];
  readonly slopes?: readonly number[];
}

function settled({ values, slopes = values.map(() => 0) }: Inputs): ConstructorParameters<typeof Situation>[2] {
  const inputs = Float64Array.of(...values, 1);
  return { pieces: [], states: [], inputs, inputSlopes: Float64Array.of(...slopes, 0), recurs: true };
}

function situationOf(mode: Mode, inputs: Inputs, armed: readonly ArmedGuard[] = [], voltScale = 10): Situation {
  return new Situation(program, mode, settled(inputs), voltScale, armed);
}

/** A source of the first input at node 1, 10 kohm to node 2, 1 uF to ground: RC = 10 ms. */
const charging = modeOf(
  3,
  [
    [1, 0, thevenin(0, 0, 0)],
    [1, 2, thevenin(1e4)],
  ],
  [[2, 0, 1e-6]],
);
/** The same source through 3 uF to node 2, and 1 uF from there to ground: nothing conducts. */
const series = modeOf(
  3,
  [[1, 0, thevenin(0, 0, 0)]],
  [
    [1, 2, 3e-6],
    [2, 0, 1e-6],
  ],
);
/** 2 mA into 1 uF: 2000 V/s. */
const filling = modeOf(2, [[1, 0, { kind: 'current', current: -2e-3 }]], [[1, 0, 1e-6]], 0);

/** Voltage of a node at a local time, from the situation's own rest, drift and rates. */
function nodeAt(situation: Situation, node: number, voltages: readonly number[], inputs: Inputs, time: number): number {
  const { rest, drift, rates, mode } = situation;
  const start = new ModeState(mode, voltages, inputs).stateAt(0);
  const z = start.map((from, k) => rest[k]! + drift[k]! * time + (from - rest[k]!) * Math.exp(-rates[k]! * time));
  return situation.valueOf(mode.nodes.at(node), Float64Array.from(z), time);
}

describe('Situation: where its states tend', () => {
  test('steady, without drift, for inputs that stand still', () => {
    const situation = situationOf(charging, { values: [9] });
    expect(situation.steady).toBe(true);
    expect(situation.drifts).toBe(false);
    expect(situation.idle).toBe(0);
    // 9 V - 7 V exp(-t / RC).
    expect(nodeAt(situation, 2, [2], { values: [9] }, 0)).toBeCloseTo(2, 13);
    expect(nodeAt(situation, 2, [2], { values: [9] }, 0.01)).toBeCloseTo(9 - 7 * Math.exp(-1), 13);
  });

  test('behind a ramp S by S RC: S (t - RC) + (v0 - u0 + S RC) exp(-t / RC) + u0', () => {
    const inputs = { values: [1], slopes: [50] };
    const situation = situationOf(charging, inputs);
    expect(situation.steady).toBe(false);
    expect(situation.drifts).toBe(true);
    for (const time of [0, 0.004, 0.03]) {
      const expected = 1 + 50 * (time - 0.01) + (2 - 1 + 0.5) * Math.exp(-time / 0.01);
      expect(nodeAt(situation, 2, [2], inputs, time)).toBeCloseTo(expected, 13);
    }
  });

  test('drifts where a constant current fills a capacitor: 2 mA / 1 uF', () => {
    const situation = situationOf(filling, { values: [] });
    expect([situation.idle, situation.steady, situation.drifts]).toEqual([1, true, true]);
    expect(nodeAt(situation, 1, [3], { values: [] }, 0.001)).toBeCloseTo(5, 12);
  });

  test('drifts with a ramp behind capacitors in series: 3/4 of it', () => {
    const inputs = { values: [2], slopes: [8] };
    const situation = situationOf(series, inputs);
    expect(situation.idle).toBe(1);
    expect(situation.drifts).toBe(true);
    expect(nodeAt(situation, 2, [-1, 3], inputs, 0)).toBeCloseTo(3, 13);
    expect(nodeAt(situation, 2, [-1, 3], inputs, 0.5)).toBeCloseTo(3 + 0.75 * 8 * 0.5, 13);
    expect(situationOf(series, { values: [2] }).drifts).toBe(false);
  });

  test('keeps inputs of its own', () => {
    const inputs = settled({ values: [9] });
    const situation = new Situation(program, charging, inputs, 10, []);
    inputs.inputs[0] = 1;
    inputs.inputSlopes[0] = 1;
    expect([...situation.inputs]).toEqual([9, 1]);
    expect([...situation.inputSlopes]).toEqual([0, 0]);
  });
});

describe('Situation.speedOf()', () => {
  /** How fast the voltage of a node changes (V/s) at a local time, from a state of given capacitor voltages at its start. */
  function speedAt(mode: Mode, node: number, voltages: readonly number[], inputs: Inputs, time: number): number {
    const situation = situationOf(mode, inputs);
    const z = Float64Array.from(new ModeState(mode, voltages, inputs).stateAt(time));
    return situation.speedOf(mode.nodes.at(node), z, time);
  }

  test('follows the exponential: (9 V - 2 V) / RC exp(-t / RC)', () => {
    for (const time of [0, 0.004, 0.03]) {
      expect(speedAt(charging, 2, [2], { values: [9] }, time)).toBeCloseTo(700 * Math.exp(-time / 0.01), 10);
      expect(speedAt(charging, 1, [2], { values: [9] }, time)).toBeCloseTo(0, 10);
    }
  });

  test('follows a ramp S and what is left of the state: S - (v0 - u0 + S RC) / RC exp(-t / RC)', () => {
    const inputs = { values: [1], slopes: [50] };
    for (const time of [0, 0.004, 0.03]) {
      expect(speedAt(charging, 2, [2], inputs, time)).toBeCloseTo(50 - 150 * Math.exp(-time / 0.01), 10);
      expect(speedAt(charging, 1, [2], inputs, time)).toBeCloseTo(50, 10);
    }
  });

  test('is that of what drifts: 2 mA / 1 uF, and 3/4 of a ramp behind capacitors in series', () => {
    for (const time of [0, 0.004]) {
      expect(speedAt(filling, 1, [3], { values: [] }, time)).toBeCloseTo(2000, 9);
      expect(speedAt(series, 2, [-1, 3], { values: [2], slopes: [8] }, time)).toBeCloseTo(6, 12);
    }
  });
});

describe('Situation.curves', () => {
  /** Where the drifts of two states follow two inputs and the constant 1 so much each (per second). */
  const drifting = (...rows: readonly (readonly [first: number, second: number])[]): Mode => {
    const still = modeOf(
      3,
      [],
      [
        [1, 0, 1e-6],
        [2, 0, 1e-6],
      ],
      2,
    );
    return { ...still, drift: Float64Array.from(rows.flatMap(([first, second]) => [first, second, 0])) };
  };
  const ramps = { values: [1, 2], slopes: [50, 25] };

  test('is whether the drift of any state changes with the inputs', () => {
    expect(situationOf(drifting([0, 0], [0, 0]), ramps).curves).toBe(false);
    expect(situationOf(drifting([3, 0], [0, 0]), ramps).curves).toBe(true);
    expect(situationOf(drifting([0, 0], [3, 0]), ramps).curves).toBe(true);
    expect(situationOf(drifting([0, 0], [0, -3]), ramps).curves).toBe(true);
    expect(situationOf(drifting([3, 0], [0, 3]), { values: [1, 2] }).curves).toBe(false);
  });

  test('is not where what the inputs do to it cancels but for rounding', () => {
    expect(situationOf(drifting([3, -6], [-1, 2]), ramps).curves).toBe(false);
    expect(situationOf(drifting([3, -6 * (1 + 8 * EPSILON)], [0, 0]), ramps).curves).toBe(false);
    expect(situationOf(drifting([3, -6 * (1 + 256 * EPSILON)], [0, 0]), ramps).curves).toBe(true);
  });
});

describe('Situation.noise', () => {
  /** 1 mA into 1 Mohm beside 1 uF: aims at 1000 V; half of it through a second such pair: 500 V. */
  const aiming = (amperes: number): Mode =>
    modeOf(
      3,
      [
        [1, 0, { kind: 'current', current: -amperes }],
        [1, 0, thevenin(1e6)],
        [2, 0, { kind: 'current', current: -amperes / 2 }],
        [2, 0, thevenin(1e6)],
      ],
      [
        [1, 0, 1e-6],
        [2, 0, 1e-6],
      ],
      0,
    );

  test('is 16 rounding units of the farthest voltage that a capacitor aims at', () => {
    expect(situationOf(aiming(1e-3), { values: [] }).noise).toBeCloseTo(16 * EPSILON * 1000, 20);
    expect(situationOf(aiming(-1e-3), { values: [] }).noise).toBeCloseTo(16 * EPSILON * 1000, 20);
  });

  test('is none up to four times the largest voltage of the circuit', () => {
    expect(situationOf(aiming(1e-3), { values: [] }, [], 249).noise).toBeGreaterThan(0);
    expect(situationOf(aiming(1e-3), { values: [] }, [], 251).noise).toBe(0);
    expect(situationOf(charging, { values: [9] }).noise).toBe(0);
  });
});

describe('Situation.valueOf()', () => {
  test('is a readout at the values that the inputs have come to', () => {
    const inputs = { values: [1], slopes: [50] };
    const situation = situationOf(charging, inputs);
    const z = Float64Array.from(new ModeState(charging, [2], inputs).stateAt(0));
    expect(situation.valueOf(charging.nodes.at(1), z, 0)).toBe(1);
    expect(situation.valueOf(charging.nodes.at(1), z, 0.02)).toBe(2);
    // (1 V + 50 V/s 0.02 s - 2 V) / 10 kohm.
    expect(situation.valueOf(charging.branchCurrents.at(1), z, 0.02)).toBeCloseTo(0, 17);
    expect(situation.valueOf(charging.branchCurrents.at(1), z, 0)).toBeCloseTo(-1e-4, 17);
  });

  test('counts how fast inputs change where a current does: C S, of 3 uF and 1 uF in series 0.75 uF', () => {
    const inputs = { values: [2], slopes: [8] };
    const situation = situationOf(series, inputs);
    const z = Float64Array.from(new ModeState(series, [-1, 3], inputs).stateAt(0));
    expect(situation.valueOf(series.capacitorCurrents.at(1), z, 0)).toBeCloseTo(0.75e-6 * 8, 18);
    // What flows into the capacitors comes out of the source: from its second terminal to its first.
    expect(situation.valueOf(series.branchCurrents.at(0), z, 0)).toBeCloseTo(-0.75e-6 * 8, 18);
  });
});

describe('Situation.renew()', () => {
  const armed: ArmedGuard[] = [
    { code: 0, rank: 0, guard: undefined, plus: 2, minus: 0, branch: -1, sign: 1, offset: 6 },
  ];

  test('is as one made anew', () => {
    const situation = situationOf(charging, { values: [1], slopes: [50] }, armed);
    situation.frame.need?.();
    situation.likely = 0;
    situation.roots[0] = 0.5;
    const before = { ...situation };
    situation.renew(settled({ values: [9] }), 12);
    const anew = situationOf(charging, { values: [9] }, armed, 12);
    const fields = ['inputs', 'inputSlopes', 'rest', 'drift', 'drifts', 'steady', 'noise', 'likely'] as const;
    for (const field of fields) expect(situation[field]).toEqual(anew[field]);
    const lines = ['rows', 'constants', 'slopes', 'tolerances', 'scales', 'roots'] as const;
    for (const field of lines) expect(situation[field]).toEqual(anew[field]);
    situation.frame.need?.();
    anew.frame.need?.();
    expect({ ...situation.frame }).toMatchObject({
      rows: anew.frame.rows,
      constants: anew.frame.constants,
      slopes: anew.frame.slopes,
    });
    expect(situation.former).toEqual({
      afterGuard: before.afterGuard,
      afterEvent: before.afterEvent,
      afterInput: before.afterInput,
    });
  });

  test('keeps what followed before as a guess, and knows nothing of what follows now', () => {
    const situation = situationOf(charging, { values: [9] }, armed);
    const known = {} as never;
    situation.afterGuard[0] = known;
    situation.afterEvent[0] = known;
    situation.afterInput[0] = [known];
    situation.renew(settled({ values: [8] }), 10);
    expect([situation.afterGuard, situation.afterEvent, situation.afterInput]).toEqual([[], [], []]);
    expect(situation.former).toEqual({ afterGuard: [known], afterEvent: [known], afterInput: [[known]] });
  });

  test('begins without a frame as well', () => {
    const situation = situationOf(charging, { values: [9] });
    situation.renew(settled({ values: [4] }), 10);
    situation.frame.need?.(1);
    expect(situation.frame.constants[1]).toBe(4);
  });

  test('begins another run without the guesses of the one before, and nothing else new', () => {
    const situation = situationOf(charging, { values: [9] }, armed);
    situation.likely = 0;
    situation.roots[0] = 0.5;
    const known = {} as never;
    situation.afterGuard[0] = known;
    situation.begin();
    expect([situation.likely, ...situation.roots]).toEqual([-1, 0]);
    expect(situation.afterGuard).toEqual([known]);
  });
});

describe('Situation.frame', () => {
  /** Signal s of a frame: constant, slope, and its row on the amplitudes. */
  function signal({ frame, stateCount }: Situation, s: number): { constant: number; slope: number; row: number[] } {
    frame.need?.(s);
    const row = [...frame.rows.subarray(s * stateCount, (s + 1) * stateCount)];
    return { constant: frame.constants[s]!, slope: frame.slopes[s]!, row };
  }

  test('holds node voltages, then currents, as they follow from the amplitudes', () => {
    const inputs = { values: [1], slopes: [50] };
    const situation = situationOf(charging, inputs);
    const amplitude = new ModeState(charging, [2], inputs).stateAt(0)[0]! - situation.rest[0]!;
    // Node 1 is the source; node 2 is 0.5 + 50 t and 1.5 of what dies out; the current is C dv/dt.
    expect(signal(situation, 1)).toEqual({ constant: 1, slope: 50, row: [0] });
    const node = signal(situation, 2);
    expect(node.constant).toBeCloseTo(0.5, 13);
    expect(node.slope).toBeCloseTo(50, 11);
    expect(node.row[0]! * amplitude).toBeCloseTo(1.5, 13);
    const current = signal(situation, 3);
    expect(current.constant).toBeCloseTo(50e-6, 17);
    expect(current.slope).toBeCloseTo(0, 14);
    expect(current.row[0]! * amplitude).toBeCloseTo(-1.5e-4, 17);
  });

  test('adds up the elements of a current, each with its direction', () => {
    const situation = situationOf(charging, { values: [9] });
    const [resistor, negative, both] = [3, 4, 5].map((s) => signal(situation, s)) as [
      ReturnType<typeof signal>,
      ReturnType<typeof signal>,
      ReturnType<typeof signal>,
    ];
    // What comes through the resistor goes into the capacitor.
    expect(negative.row[0]).toBeCloseTo(-resistor.row[0]!, 15);
    expect(both.row[0]).toBeCloseTo(2 * resistor.row[0]!, 15);
    expect(resistor.row[0]).not.toBe(0);
  });

  test('counts how fast inputs change: 0.75 uF times 8 V/s through capacitors in series, either way round', () => {
    const situation = new Situation(
      {
        currents: [
          { part: 'C1', elements: [{ element: 'capacitor', index: 0, sign: 1 }] },
          { part: 'C2', elements: [{ element: 'capacitor', index: 1, sign: -1 }] },
        ],
      } as unknown as Program,
      series,
      settled({ values: [2], slopes: [8] }),
      10,
      [],
    );
    expect(signal(situation, 3).constant).toBeCloseTo(6e-6, 18);
    expect(signal(situation, 4).constant).toBeCloseTo(-6e-6, 18);
  });

  test('works each signal out when it is asked for, all of them when no number is named', () => {
    const situation = situationOf(charging, { values: [9] });
    const { frame } = situation;
    frame.need?.(1);
    expect([...frame.constants.subarray(0, 3)]).toEqual([0, 9, 0]);
    // What is known is not worked out again.
    frame.constants[1] = -1;
    frame.need?.(1);
    expect(frame.constants[1]).toBe(-1);
    frame.need?.();
    expect(frame.constants[1]).toBe(-1);
    expect(frame.constants[2]).toBeCloseTo(9, 13);
    frame.constants[2] = -1;
    frame.need?.();
    expect(frame.constants[2]).toBe(-1);
    expect(situation.frame).toBe(frame);
  });
});
