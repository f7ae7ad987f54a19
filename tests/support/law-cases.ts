import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { readyBoards } from '#sim/board/index.ts';
import type { Circuit, Part, PartData } from '#sim/circuit/description.ts';
import { timerParameters } from '#sim/device/families.ts';
import { checkBoards, parseDocument } from '#sim/document/index.ts';
import { spread } from './arbitrary-numbers.ts';
import { circuitOf } from './circuit-issues.ts';
import { type CircuitOptions, randomCircuits } from './random-circuit.ts';

/** A checked circuit and how long to run it (s). */
export interface LawCase {
  readonly name: string;
  readonly circuit: Circuit;
  readonly until: number;
}

/** Long enough for every ready board and every worked example to do all that it does (s). */
const LONG_ENOUGH = 10;

/** A chain: oscillator, coupling capacitor, divider on a soft supply, with a probe; three to five states. */
const chain: readonly PartData[] = [
  { name: 'BT1', kind: 'supply', plus: 'rail', minus: 'ground', voltage: 9, resistance: 3 },
  { name: 'R1', kind: 'resistor', a: 'rail', b: 'sink', resistance: 10e3 },
  { name: 'R2', kind: 'resistor', a: 'sink', b: 'timing', resistance: 47e3 },
  { name: 'C1', kind: 'capacitor', a: 'timing', b: 'ground', capacitance: 1e-6, leakage: 5e6 },
  {
    name: 'U1',
    kind: 'timer',
    family: 'bipolar',
    pins: {
      supply: 'rail',
      ground: 'ground',
      trigger: 'timing',
      threshold: 'timing',
      discharge: 'sink',
      output: 'out',
    },
  },
  { name: 'C2', kind: 'capacitor', a: 'out', b: 'in', capacitance: 1e-8 },
  { name: 'R3', kind: 'resistor', a: 'rail', b: 'in', resistance: 100e3 },
  { name: 'R4', kind: 'resistor', a: 'rail', b: 'hold', resistance: 220e3 },
  { name: 'C3', kind: 'capacitor', a: 'hold', b: 'ground', capacitance: 1e-6, series: 1 },
  { name: 'P1', kind: 'probe', a: 'hold', b: 'ground' },
  {
    name: 'U2',
    kind: 'timer',
    family: 'cmos',
    pins: { supply: 'rail', ground: 'ground', trigger: 'in', threshold: 'hold', discharge: 'hold', output: 'divided' },
  },
];

/** Every board of every worked example, as its page has it. */
function exampleBoards(): LawCase[] {
  const folder = new URL('../../worked-examples/', import.meta.url);
  return readdirSync(folder).flatMap((example) => {
    const files = readdirSync(new URL(`${example}/`, folder)).filter((file) => file.endsWith('.tt.json'));
    return files.flatMap((file) => {
      const { document } = parseDocument(readFileSync(new URL(`${example}/${file}`, folder), 'utf8'));
      if (document === undefined) throw new Error(`${file} must be a usable document`);
      return [...checkBoards(document).boards].map(([name, board]): LawCase => {
        if (!board.ok) throw new Error(`${file}: ${name} must be a good board`);
        return { name: `${example} ${name}`, circuit: board.circuit, until: LONG_ENOUGH };
      });
    });
  });
}

/** All ready boards, all boards of the worked examples, and a chain of two timers. */
export const everyBoard: readonly LawCase[] = [
  ...[...readyBoards].map(([name, { circuit }]) => ({ name, circuit: circuitOf(circuit.parts), until: LONG_ENOUGH })),
  ...exampleBoards(),
  { name: 'chain', circuit: circuitOf(chain), until: 0.3 },
];

/** The same boards with other timing parts, supplies and families. */
export function turnedBoards(families: readonly ('ideal' | 'cmos' | 'bipolar')[]): fc.Arbitrary<LawCase> {
  return fc
    .record({
      board: fc.constantFrom(...everyBoard),
      family: fc.constantFrom(...families),
      R1: spread(0.1, 10),
      R2: spread(0.1, 10),
      C1: spread(0.1, 10),
      voltage: fc.integer({ min: 45, max: 160 }).map((tenths) => tenths / 10),
    })
    .map(({ board, family, voltage, ...factors }) => {
      const turned = (part: Part): Part => {
        const values: Record<string, unknown> = { ...part.values };
        if (part.kind === 'timer') Object.assign(values, { family, parameters: timerParameters(family) });
        if (part.kind === 'supply') values['voltage'] = voltage;
        const factor = factors[part.name as 'R1'] ?? 1;
        for (const field of ['resistance', 'capacitance']) {
          if (values[field] !== undefined) values[field] = (values[field] as number) * factor;
        }
        return { ...part, values };
      };
      return { ...board, circuit: { ...board.circuit, parts: board.circuit.parts.map(turned) } };
    });
}

/** Random circuits, checked. */
export function randomCases(options: CircuitOptions): fc.Arbitrary<LawCase> {
  return randomCircuits(options).map(({ parts, until }) => ({
    name: 'a random circuit',
    circuit: circuitOf(parts),
    until,
  }));
}
