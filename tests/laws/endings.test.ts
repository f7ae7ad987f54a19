import { runCircuit } from '#sim/run/simulate.ts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import '../support/costly-runs.ts';
import { circuitOf } from '../support/circuit-issues.ts';
import { between, farads, ohms, overDecades, volts } from '../support/random-values.ts';
import type { FilePart } from '../support/run-board.ts';
import { capacitor, diode, lamp, lowPulses, resistor, signal, timer } from '../support/timer-circuits.ts';

/** A part or two that may be there or not. */
function maybe(parts: fc.Arbitrary<FilePart[]>): fc.Arbitrary<FilePart[]> {
  return fc.oneof(fc.constant<FilePart[]>([]), parts);
}

/** Families with a delay: without one, comparators whose limits move with the output may rightly switch without end. */
const family = fc.constantFrom('bipolar', 'cmos');

/** Boards as people plug them together: a timer as astable, monostable or fed from its output, with loads and supplies. */
const boards = fc
  .record({
    kind: fc.constantFrom('astable', 'monostable', 'fed'),
    family,
    voltage: volts,
    first: ohms,
    second: ohms,
    capacitance: farads,
    source: fc.constantFrom(0, 1, 50, 1000),
    sag: between(0, 1),
    over: fc.constantFrom(0, 1),
    period: overDecades(0.1, 2),
    coupling: overDecades(10e-12, 10e-6),
    leakage: overDecades(10e3, 100e6),
    series: fc.constantFrom(0, 1, 100),
    upper: maybe(overDecades(100, 10e3).map((r) => [resistor('RL', 'out', 'l', r), lamp('L1', 'l', 'ground')])),
    lower: maybe(overDecades(100, 10e3).map((r) => [resistor('RM', 'rail', 'm2', r), lamp('L2', 'm2', 'out')])),
    control: maybe(overDecades(1e-9, 10e-6).map((c) => [capacitor('CK', 'control', 'ground', c)])),
    across: maybe(overDecades(10e-9, 1e-3).map((c) => [capacitor('CB', 'rail', 'ground', c)])),
    clamp: fc.boolean(),
  })
  .map((board) => {
    const { kind, voltage, first, second, capacitance, source, sag, over } = board;
    const unit = (first + 2 * second) * capacitance;
    const pins = { output: 'out', control: 'control', threshold: 't' };
    const bank = { family: board.family };
    const timing: Record<string, FilePart[]> = {
      astable: [
        timer('U1', { ...pins, trigger: 't', discharge: 'm' }, bank),
        resistor('R1', 'rail', 'm', first),
        resistor('R2', 'm', 't', second),
        ...(board.clamp ? [diode('D1', 'm', 't')] : []),
      ],
      monostable: [
        timer('U1', { ...pins, trigger: 'in', discharge: 't' }, bank),
        resistor('R1', 'rail', 't', first),
        resistor('R2', 'rail', 'in', second),
        capacitor('CC', 's', 'in', board.coupling),
        signal('G1', 's', lowPulses(voltage, { period: board.period * unit, width: 0.05 * unit })),
        ...(board.clamp ? [diode('D1', 'in', 'rail')] : []),
      ],
      fed: [timer('U1', { ...pins, trigger: 't' }, bank), resistor('R1', 'out', 't', first)],
    };
    const parts: FilePart[] = [
      {
        name: 'BT1',
        kind: 'supply',
        plus: 'rail',
        minus: 'ground',
        voltage,
        resistance: source,
        changes: [
          { at: unit, voltage: sag * voltage, over: over * unit },
          { at: 3 * unit, voltage, over: over * unit },
        ],
      },
      ...timing[kind]!,
      capacitor('C1', 't', 'ground', capacitance, { leakage: board.leakage, series: board.series }),
      ...board.upper,
      ...board.lower,
      ...board.control,
      ...board.across,
    ];
    return { parts, until: 8 * unit };
  });

test('a run of any board whose timer has a delay reaches its end, or its budget: rounding never makes it chatter', () => {
  fc.assert(
    fc.property(boards, ({ parts, until }) => {
      // A delay of 0.1 µs beside hours of time may be more events than anybody waits for; that is said, not hung on.
      const { code } = runCircuit(circuitOf(parts), { until, observers: [], maxEvents: 20_000 });
      expect(['reached', 'budget']).toContain(code);
    }),
    { seed: 1501 },
  );
});
