import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { consistentPieces } from '#sim/engine/consistent-pieces.ts';
import { spread } from '../support/arbitrary-numbers.ts';
import { beginning } from '../support/circuit-beginning.ts';
import { net, nets } from '../support/random-nets.ts';
import type { FilePart } from '../support/run-board.ts';
import { capacitor, resistor, supply } from '../support/timer-circuits.ts';

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
});
