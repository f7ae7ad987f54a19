import type { FilePart } from './run-board.ts';
import { capacitor, resistor, supply } from './timer-circuits.ts';

/** A transistor with a gain, from base, collector and emitter. */
export function amplifier(
  name: string,
  [base, collector, emitter]: readonly [string, string, string],
  more: Readonly<Record<string, unknown>> = {},
): FilePart {
  return { name, kind: 'transistor', gain: 100, base, collector, emitter, ...more };
}

/** What a Schmitt trigger is made of (V, Ω). */
export interface SchmittValues {
  readonly voltage: number;
  readonly input: number;
  readonly first: number;
  readonly second: number;
  readonly upper: number;
  readonly lower: number;
  readonly emitter: number;
  readonly gain: number;
}

/**
 * A Schmitt trigger of two transistors that share an emitter resistor, from `in` to `c2`: the lamp of Fernhollow Junction's
 * platform, which is to come on at dusk without flickering.
 */
export function schmittTrigger(values: SchmittValues): FilePart[] {
  const { voltage, input, first, second, upper, lower, emitter, gain } = values;
  return [
    supply(voltage),
    resistor('RI', 'in', 'b1', input),
    resistor('R1', 'rail', 'c1', first),
    resistor('R2', 'rail', 'c2', second),
    resistor('R3', 'c1', 'b2', upper),
    resistor('R4', 'b2', 'ground', lower),
    resistor('RE', 'e', 'ground', emitter),
    amplifier('T1', ['b1', 'c1', 'e'], { gain }),
    amplifier('T2', ['b2', 'c2', 'e'], { gain }),
  ];
}

/** A flip-flop: the memory of a track circuit. Collector resistors, and those from each collector to the other's base (Ω). */
export function flipFlop(
  voltage: number,
  collectors: readonly [number, number],
  crossed: readonly [number, number],
  gain = 100,
): FilePart[] {
  return [
    supply(voltage),
    resistor('R1', 'rail', 'c1', collectors[0]),
    resistor('R2', 'rail', 'c2', collectors[1]),
    resistor('R3', 'c1', 'b2', crossed[0]),
    resistor('R4', 'c2', 'b1', crossed[1]),
    amplifier('T1', ['b1', 'c1', 'ground'], { gain }),
    amplifier('T2', ['b2', 'c2', 'ground'], { gain }),
  ];
}

/** Stray capacitances from the bases to the emitters (F). */
export function strays(emitter: string, first: number, second = first): FilePart[] {
  return [capacitor('CS1', 'b1', emitter, first), capacitor('CS2', 'b2', emitter, second)];
}
