import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { controlsOf, fastProgram } from '#sim/engine/fast-program.ts';
import { buildProgram, type Program } from '#sim/engine/program.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import type { FilePart } from '../../support/run-board.ts';
import { capacitor, resistor } from '../../support/timer-circuits.ts';
import { amplifier, flipFlop, strays } from '../../support/two-transistors.ts';

// What a circuit is while it snaps (decision 16): what has a voltage keeps it, and the junctions of the bases alone charge.

const crossed = flipFlop(9, [1e3, 1e3], [10e3, 10e3]);
const button = (a: string, b: string): FilePart => ({ ...{ name: 'S1', kind: 'button', a, b, presses: [] } });
const ideal = (a: string, b: string): FilePart => ({ ...button(a, b), resistance: 0 });

function programOf(parts: readonly FilePart[]): Program {
  return buildProgram(circuitOf(parts), standardDevices);
}

/** The fast program of some parts, with junctions as large as each other but for what keeps them apart. */
function fast(parts: readonly FilePart[]): ReturnType<typeof fastProgram> {
  const program = programOf(parts);
  return fastProgram(
    program,
    controlsOf(program).map(() => 1),
  );
}

/** The sources that stand for what has a voltage: which part's, between which nets, from which input, behind how many ohms. */
function heldVoltages(parts: readonly FilePart[]) {
  const { branches, nodeNames } = fast(parts).program;
  return branches.slice(programOf(parts).branches.length).map(({ part, a, b, pieces }) => {
    const { law } = pieces[0]!;
    if (law.kind !== 'thevenin') throw new Error(`${part} is no source.`);
    return { part, nets: [nodeNames[a], nodeNames[b]], input: law.input, ohms: law.resistance };
  });
}

/** The parts whose bases have a junction that charges. */
function charging(parts: readonly FilePart[]): string[] {
  return fast(parts).program.network.capacitors.map(({ part }) => part);
}

describe('fastProgram()', () => {
  test('has a source for each capacitor, of an input of its own', () => {
    const parts = [...crossed, capacitor('C1', 'c1', 'x', 1e-6), resistor('R5', 'x', 'ground', 1e3)];
    const { inputs } = programOf(parts);
    expect(heldVoltages(parts)).toEqual([{ part: 'C1', nets: ['c1', 'x'], input: inputs.length, ohms: 0 }]);
    expect(fast(parts).program.network.inputCount).toBe(inputs.length + 1);
  });

  test('has a source against ground for each net that transistors alone hold', () => {
    // T3 lets T4 have what it carries: between them there is nothing but its emitter and the base of T4.
    const pair = [amplifier('T3', ['c1', 'rail', 'm']), amplifier('T4', ['m', 'd', 'ground'])];
    const parts = [...crossed, ...pair, resistor('R5', 'rail', 'd', 1e3)];
    const { inputs } = programOf(parts);
    expect(heldVoltages(parts)).toEqual([{ part: 'm', nets: ['m', 'ground'], input: inputs.length, ohms: 0 }]);
  });

  test('puts a resistance before a capacitor beside a source, whose voltage it has but for rounding', () => {
    const beside = [...crossed, capacitor('C1', 'rail', 'ground', 1e-6)];
    expect(heldVoltages(beside)[0]!.ohms).toBeGreaterThan(0);
    const second = [...crossed, capacitor('C1', 'c1', 'ground', 1e-6), capacitor('C2', 'c1', 'ground', 1e-6)];
    expect(heldVoltages(second).map(({ ohms }) => ohms > 0)).toEqual([false, true]);
  });

  test('puts one before a capacitor that a contact of no resistance may join to such a loop', () => {
    const parts = [...crossed, ideal('c1', 'x'), capacitor('C1', 'c1', 'x', 1e-6), resistor('R5', 'x', 'ground', 1e3)];
    expect(heldVoltages(parts)[0]!.ohms).toBeGreaterThan(0);
  });

  test('lets the base of each transistor charge, from 0 V unless whoever runs it knows better', () => {
    expect(charging(crossed)).toEqual(['T1', 'T2']);
    expect(fast(crossed).program.initial).toEqual([0, 0]);
    expect(fast(crossed).junctions).toEqual(controlsOf(programOf(crossed)));
  });

  test('has no junction to charge where the circuit holds the voltage across a base', () => {
    expect(charging([...crossed, ...strays('ground', 1e-12).slice(0, 1)])).toEqual(['T2']);
    const onSupply = [amplifier('T3', ['rail', 'd', 'ground']), resistor('R5', 'rail', 'd', 1e3)];
    expect(charging([...crossed, ...onSupply])).toEqual(['T1', 'T2']);
    // A contact holds nothing while it is open.
    expect(charging([...crossed, ideal('b1', 'ground')])).toEqual(['T1', 'T2']);
  });

  test('takes no two junctions to be alike, nor one twice as large as another', () => {
    const parts = [...crossed, amplifier('T3', ['c1', 'd', 'ground']), resistor('R5', 'rail', 'd', 1e3)];
    const farads = fast(parts)
      .program.network.capacitors.map(({ capacitance }) => capacitance)
      .sort((p, q) => p - q);
    expect(farads[1]! / farads[0]!).toBeGreaterThan(1.1);
    expect(farads[2]! / farads[1]!).toBeGreaterThan(1.1);
    expect(farads[2]! / farads[0]!).toBeLessThan(2);
  });

  test('takes one so many times as large as it is told', () => {
    const program = programOf(crossed);
    const of = (times: readonly number[]): number[] =>
      fastProgram(program, times).program.network.capacitors.map(({ capacitance }) => capacitance);
    const [first, second] = of([1, 1]);
    expect(of([1, 1000])).toEqual([first, 1000 * second!]);
  });
});
