import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Law, Network, OwnLaw } from '#sim/network/element.ts';
import type { Mode, Readout } from '#sim/network/mode.ts';
import { ModeCompiler } from '#sim/network/mode-compiler.ts';
import { compile, networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';
import { networks } from '../../support/random-network.ts';

/** All numbers of a mode. */
function numbersOf(mode: Mode): unknown {
  const { rates, equilibrium, drift, driveSlope, project, projectInput, capacitorCount, held } = mode;
  const own = { rates, equilibrium, drift, driveSlope, project, projectInput, capacitorCount, held };
  const readouts = [mode.nodes, mode.branchCurrents, mode.capacitorCurrents, mode.capacitorVoltages];
  const listed = readouts.map((each) =>
    each.all().map(({ state, input, inputSlope, scale }: Readout) => ({ state, input, inputSlope, scale })),
  );
  return structuredClone({ own, listed });
}

/** A law with other numbers, such that its mode has the same structure. */
function changed(law: OwnLaw, factor: number): OwnLaw {
  if (law.kind === 'current') return { ...law, current: law.current * factor };
  if (law.kind !== 'thevenin' || law.resistance === 0) return law;
  return { ...law, offset: law.offset * factor, resistance: law.resistance * factor };
}

function asMode(mode: ReturnType<ModeCompiler['compile']>): Mode {
  if ('shortedParts' in mode) throw new Error(`short of ${mode.shortedParts.join()}`);
  return mode;
}

/** 10 kΩ from a source of the first input to C1, and 1 kΩ from there to C2. */
const ladder: readonly Wired[] = [
  [1, 0, thevenin(0, 5, 0)],
  [1, 2, thevenin(1e4)],
  [2, 3, thevenin(1e3)],
];
const lawsOf = (wired: readonly Wired[]): OwnLaw[] => wired.map(([, , law]) => law);
const charged = (first: number, second: number): Network =>
  networkOf(4, ladder, [
    [2, 0, first],
    [3, 0, second],
  ]);

describe('a mode that takes up other numbers', () => {
  test('is the one that a new compiler makes of them, bit for bit, in any network', () => {
    const factor = fc.double({ min: 0.5, max: 2, noNaN: true });
    let renewed = 0;
    fc.assert(
      fc.property(networks({ loops: true, islands: true }), fc.array(factor, { minLength: 25 }), (drawn, factors) => {
        const { network, laws } = drawn;
        const one = factors[0]!;
        const other: Network = {
          ...network,
          capacitors: network.capacitors.map((each) => ({ ...each, capacitance: each.capacitance * one })),
        };
        const otherLaws = laws.map((law, index) => changed(law, factors[index % factors.length]!));
        const compiler = new ModeCompiler(network);
        const mode = asMode(compiler.compile(laws));
        // Everything has been worked out once before it is worked out anew.
        numbersOf(mode);
        if (!compiler.renew(other)) return;
        renewed++;
        expect(compiler.compile(otherLaws, mode)).toBe(mode);
        expect(numbersOf(mode)).toEqual(numbersOf(compile(other, otherLaws)));
        expect(compiler.renew(network)).toBe(true);
        expect(compiler.compile(laws, mode)).toBe(mode);
        expect(numbersOf(mode)).toEqual(numbersOf(compile(network, laws)));
      }),
    );
    expect(renewed).toBeGreaterThan(0);
  });

  test('needs laws of the same kinds, inputs, and voltages of sources without resistance', () => {
    const network = charged(1e-6, 1e-7);
    const others: readonly Law[][] = [
      [thevenin(0, 5, -1), thevenin(1e4), thevenin(1e3)],
      [thevenin(0, 6, 0), thevenin(1e4), thevenin(1e3)],
      [thevenin(1, 5, 0), thevenin(1e4), thevenin(1e3)],
      [thevenin(0, 5, 0), { kind: 'open' }, thevenin(1e3)],
      [thevenin(0, 5, 0), thevenin(1e4), { kind: 'current', current: 1e-3 }],
    ];
    for (const laws of others) {
      const compiler = new ModeCompiler(network);
      const mode = asMode(compiler.compile(lawsOf(ladder)));
      const before = numbersOf(mode);
      const next = asMode(compiler.compile(laws, mode));
      expect(next).not.toBe(mode);
      expect(numbersOf(next)).toEqual(numbersOf(compile(network, laws)));
      expect(numbersOf(mode)).toEqual(before);
    }
  });

  test('stays for laws that are made anew with the same voltages without resistance, and for those that stay', () => {
    const laws = (): OwnLaw[] => [
      thevenin(0, 5, 0),
      thevenin(1e4),
      { kind: 'open' },
      { kind: 'current', current: 1e-3 },
    ];
    const wired: readonly Wired[] = [
      [1, 0, thevenin(0)],
      [1, 2, thevenin(1)],
      [2, 3, thevenin(1)],
      [3, 0, thevenin(1)],
    ];
    const network = networkOf(4, wired, [
      [2, 0, 1e-6],
      [3, 0, 1e-7],
    ]);
    const compiler = new ModeCompiler(network);
    const mode = asMode(compiler.compile(laws()));
    expect(compiler.compile(laws(), mode)).toBe(mode);
    const [ideal, , open, current] = laws() as [OwnLaw, OwnLaw, OwnLaw, OwnLaw];
    const other: readonly OwnLaw[] = [ideal, thevenin(2e4, 1), open, { kind: 'current', current: 2e-3 }];
    expect(compiler.compile(other, mode)).toBe(mode);
    expect(numbersOf(mode)).toEqual(numbersOf(compile(network, other)));
    // A source without resistance that has one now, and a resistor that follows an input.
    expect(compiler.compile([thevenin(1, 5, 0), thevenin(1e4), open, current], mode)).not.toBe(mode);
    const again = asMode(compiler.compile(other));
    expect(compiler.compile([ideal, thevenin(1e4, 0, 0), open, current], again)).not.toBe(again);
  });

  test('keeps its order of capacitors, the largest first, strays of 10 pF last among their equals', () => {
    const renews = (from: readonly [number, number], to: readonly [number, number]): boolean =>
      new ModeCompiler(charged(...from)).renew(charged(...to));
    expect(renews([1e-6, 1e-7], [2e-6, 3e-7])).toBe(true);
    expect(renews([1e-6, 1e-7], [1e-7, 1e-6])).toBe(false);
    expect(renews([1e-6, 1e-7], [1e-7, 1e-7])).toBe(true);
    expect(renews([1e-7, 1e-6], [1e-7, 1e-7])).toBe(false);
    expect(renews([1e-6, 1e-7], [1e-6, 1e-12])).toBe(false);
    expect(renews([1e-6, 1e-11], [1e-6, 2e-11])).toBe(true);
    expect(renews([1e-6, 1e-12], [1e-6, 1e-11])).toBe(false);
  });

  test('leaves the network of its compiler as it was where it cannot be renewed', () => {
    const compiler = new ModeCompiler(charged(1e-6, 1e-7));
    const mode = asMode(compiler.compile(lawsOf(ladder)));
    expect(compiler.renew(charged(1e-7, 1e-6))).toBe(false);
    expect(compiler.compile(lawsOf(ladder), mode)).toBe(mode);
    expect(numbersOf(mode)).toEqual(numbersOf(compile(charged(1e-6, 1e-7), lawsOf(ladder))));
  });
});
