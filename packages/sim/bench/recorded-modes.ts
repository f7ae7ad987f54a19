import type { Circuit } from '../src/circuit/description.ts';
import { standardDevices } from '../src/device/standard-devices.ts';
import { Audience } from '../src/engine/audience.ts';
import { buildProgram, signalTable } from '../src/engine/program.ts';
import { Stepper } from '../src/engine/stepper.ts';
import type { HandMode } from './ode-package.ts';

/** One stretch of a run between two events: its equations, where it starts, and how long the engine says that it lasts (s). */
export interface Stretch {
  readonly mode: HandMode;
  readonly start: readonly number[];
  readonly length: number;
}

/**
 * The first stretches of a circuit's run that a guard ends, as equations for an ODE package: one for each part of the state,
 * in the coordinates in which they do not depend on each other, which is the least work for whoever integrates them.
 */
export function recordedStretches(circuit: Circuit, count: number): readonly Stretch[] {
  const program = buildProgram(circuit, standardDevices);
  const stepper = new Stepper(program, new Audience([], signalTable(program)));
  const stretches: Stretch[] = [];
  while (stretches.length < count) {
    const { situation, z, time, timeLow } = stepper;
    if (!situation) throw new Error('recordedStretches: the run must begin; it did not.');
    const { rates, rest, rows, constants, stateCount: n } = situation;
    const start = [...z.subarray(0, n)];
    if (!stepper.step(1e9, { maxEvents: 1e9 })) throw new Error('recordedStretches: the run must go on; it did not.');
    const length = stepper.time - time + (stepper.timeLow - timeLow);
    if (length === 0) continue;
    const guards = [...constants].map((constant, g) => ({
      to: 0,
      value: (y: readonly number[]): number => {
        let value = constant;
        for (let k = 0; k < n; k++) value += rows[g * n + k]! * (y[k]! - rest[k]!);
        return value;
      },
    }));
    const derivative = (y: readonly number[]): number[] => y.map((each, k) => rates[k]! * (rest[k]! - each));
    stretches.push({ mode: { derivative, guards }, start, length });
  }
  return stretches;
}
