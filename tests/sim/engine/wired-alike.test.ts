import { describe, expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { buildProgram, type Program } from '#sim/engine/program.ts';
import { wiredAlike } from '#sim/engine/wired-alike.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

function programOf(resistance: number, capacitance: number): Program {
  const parts = [
    ...monostable({ voltage: 9, resistance, capacitance, ofTimer: { family: 'bipolar' } }),
    signal('G1', 'in', lowPulses(9, { period: 1e-3, width: 1e-4 })),
  ];
  return buildProgram(circuitOf(parts), standardDevices);
}

const program = programOf(22e3, 1e-7);
const { network, branches, inputs, reactors, nodeNames, currents } = program;

/** The first entry of a list with other fields. */
function firstChanged<Entry>([first, ...others]: readonly Entry[], change: Partial<Entry>): Entry[] {
  return [{ ...first!, ...change }, ...others];
}

describe('wiredAlike()', () => {
  test('holds for circuits that differ in values alone', () => {
    expect(wiredAlike(program, program)).toBe(true);
    expect(wiredAlike(program, programOf(33e3, 2e-6))).toBe(true);
  });

  test('holds where the same nodes are held, and not where others are', () => {
    const holding = (...held: number[]): Program => ({ ...program, network: { ...network, held } });
    expect(wiredAlike(holding(1, 2), holding(1, 2))).toBe(true);
    expect(wiredAlike(holding(1, 2), holding(1, 3))).toBe(false);
    expect(wiredAlike(holding(1, 2), holding(2, 1))).toBe(false);
  });

  test.each<[string, Partial<Program>]>([
    ['another name of a node', { nodeNames: [...nodeNames.slice(0, -1), 'other'] }],
    ['one node more', { nodeNames: [...nodeNames, 'other'] }],
    ['another node that is held', { network: { ...network, held: [...network.held, 1] } }],
    ['another part of a branch', { branches: firstChanged(branches, { part: 'R9' }) }],
    ['another first node of a branch', { branches: firstChanged(branches, { a: 99 }) }],
    ['another second node of a branch', { branches: firstChanged(branches, { b: 99 }) }],
    ['one branch less', { branches: branches.slice(1) }],
    [
      'another node of a capacitor',
      { network: { ...network, capacitors: firstChanged(network.capacitors, { b: 99 }) } },
    ],
    ['another part of an input', { inputs: firstChanged(inputs, { part: 'G9' }) }],
    ['another part of a reactor', { reactors: firstChanged(reactors, { part: 'U9' }) }],
    ['another part of a current', { currents: firstChanged(currents, { part: 'R9' }) }],
    [
      'a current that is that of a capacitor',
      { currents: firstChanged(currents, { elements: firstChanged(currents[0]!.elements, { element: 'capacitor' }) }) },
    ],
    [
      'a current that is that of another branch',
      { currents: firstChanged(currents, { elements: firstChanged(currents[0]!.elements, { index: 99 }) }) },
    ],
    [
      'a current that counts the other way',
      {
        currents: firstChanged(currents, {
          elements: firstChanged(currents[0]!.elements, { sign: currents[0]!.elements[0]!.sign === 1 ? -1 : 1 }),
        }),
      },
    ],
  ])('does not for %s', (_, change) => {
    expect(wiredAlike(program, { ...program, ...change })).toBe(false);
    expect(wiredAlike({ ...program, ...change }, program)).toBe(false);
  });
});
