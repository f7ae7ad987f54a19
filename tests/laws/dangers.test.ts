import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dangers } from '#sim/circuit/dangers.ts';
import { simulate } from '#sim/run/run.ts';
import '../support/costly-runs.ts';
import { circuitOf } from '../support/circuit-issues.ts';
import { lamp, resistor, signal, supply } from '../support/timer-circuits.ts';
import type { FilePart } from '../support/run-board.ts';

/*
 * What is said of a board before any run, held against runs of boards without capacitors, in which every level lasts.
 */

const nets = ['rail', 'ground', 'in', 'x', 'y'];
const pair = fc.uniqueArray(fc.constantFrom(...nets), { minLength: 2, maxLength: 2 });

/** A 9 V rail, a signal of both signs, every net tied by a resistor, further resistors, diodes, LEDs and capacitors. */
const board = fc
  .record({
    ties: fc.tuple(fc.integer({ min: 50, max: 5000 }), fc.integer({ min: 50, max: 5000 })),
    ends: fc.tuple(fc.constantFrom('rail', 'ground', 'in'), fc.constantFrom('rail', 'ground', 'in', 'x')),
    resistors: fc.array(fc.tuple(pair, fc.integer({ min: 50, max: 5000 })), { maxLength: 2 }),
    diodes: fc.array(pair, { maxLength: 2 }),
    lamps: fc.array(pair, { minLength: 1, maxLength: 2 }),
    electrolytic: pair,
    high: fc.integer({ min: -9, max: 9 }),
    low: fc.integer({ min: -9, max: 9 }),
  })
  .map(({ ties, ends, resistors, diodes, lamps, electrolytic, high, low }): FilePart[] => [
    supply(9),
    signal('G1', 'in', { shape: 'square', frequency: 10, high, low }),
    resistor('R1', 'x', ends[0], ties[0]),
    resistor('R2', 'y', ends[1], ties[1]),
    ...resistors.map(([[a, b], ohms], k) => resistor(`RX${k}`, a!, b!, ohms)),
    ...diodes.map(([a, b], k): FilePart => ({ name: `DX${k}`, kind: 'diode', a, b })),
    ...lamps.map(([a, b], k) => lamp(`D${k}`, a!, b!)),
    // So small that what it passes when a level changes is over at once.
    { name: 'C1', kind: 'capacitor', a: electrolytic[0], b: electrolytic[1], capacitance: 1e-12, polarised: true },
  ]);

const withoutCapacitor = board.map((parts) => parts.slice(0, -1));

/** Without what lies side by side, which is judged one way after the other and not as a whole. */
const oneWay = withoutCapacitor.map((parts) => parts.filter(({ name }) => !/^(RX|DX|D1)/.test(name)));

/** What is said of a part, whatever the sentence. */
function saidOf(part: string, sentences: readonly string[], what: string): boolean {
  return sentences.some((sentence) => sentence.startsWith(part) && sentence.includes(what));
}

test('an LED that is said to be the wrong way round never lights', () => {
  fc.assert(
    fc.property(withoutCapacitor, (parts) => {
      const found = dangers(circuitOf(parts));
      const reversed = ['D0', 'D1'].filter((name) => saidOf(`${name} `, found, 'wrong way round'));
      fc.pre(reversed.length > 0);
      const run = simulate({ parts }, { until: 0.3 });
      fc.pre(run.outcome.ok);
      for (const name of reversed) {
        expect(run.read(`peak_current(${name})`).value).toBeLessThan(1e-9);
      }
    }),
  );
});

test('a capacitor that is said to be the wrong way round never is the right way round', () => {
  fc.assert(
    fc.property(board, (parts) => {
      fc.pre(saidOf('C1 ', dangers(circuitOf(parts)), 'can only be lower'));
      const run = simulate({ parts }, { until: 0.3 });
      fc.pre(run.outcome.ok);
      const { a, b } = parts.at(-1) as unknown as { a: string; b: string };
      for (const at of [0.01, 0.04, 0.049, 0.06, 0.09, 0.099]) {
        const volts = (net: string): number => (net === 'ground' ? 0 : Number(run.read(`level(${net}, ${at})`).value));
        expect(volts(a) - volts(b)).toBeLessThan(1e-6);
      }
    }),
  );
});

test('an LED beyond its limit in a run has been told of before, where its current has one way only', () => {
  fc.assert(
    fc.property(oneWay, (parts) => {
      const run = simulate({ parts }, { until: 0.3 });
      fc.pre(run.outcome.ok);
      const over = run.faults().filter(({ what, part }) => what === 'over-current' && part.startsWith('D'));
      fc.pre(over.length > 0);
      const found = dangers(circuitOf(parts));
      for (const { part } of over) expect(found.join(' ')).toContain(part);
    }),
  );
});
