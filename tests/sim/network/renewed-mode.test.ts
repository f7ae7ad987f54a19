import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Law, Network, OwnLaw } from '#sim/network/element.ts';
import type { Mode, Readout } from '#sim/network/mode.ts';
import { ModeCompiler } from '#sim/network/mode-compiler.ts';
import { Elimination } from '#sim/network/reduce.ts';
import { compile, networkOf, thevenin, type Wired } from '../../support/compiled-mode.ts';
import { type NetworkCase, networks } from '../../support/random-network.ts';

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

/** Two networks beside each other that have ground and inputs in common. */
function sideBySide(one: Network, other: Network): Network {
  const moved = (node: number): number => (node === 0 ? 0 : node + one.nodeCount - 1);
  const shifted = <Ended extends { readonly a: number; readonly b: number }>(all: readonly Ended[]): Ended[] =>
    all.map((each) => ({ ...each, a: moved(each.a), b: moved(each.b) }));
  return {
    nodeCount: one.nodeCount + other.nodeCount - 1,
    branches: [...one.branches, ...shifted(other.branches)],
    capacitors: [...one.capacitors, ...shifted(other.capacitors)],
    held: [],
    inputCount: Math.max(one.inputCount, other.inputCount),
  };
}

/** A network of its resistances and sources alone. */
function withoutCapacitors({ network }: NetworkCase): Network {
  return { ...network, capacitors: [] };
}

/** How many times something eliminates potentials. */
function eliminations(does: () => void): number {
  const whole = Object.getOwnPropertyDescriptor(Elimination.prototype, 'run')!;
  let count = 0;
  const value = function (this: Elimination, ...given: Parameters<Elimination['run']>): unknown {
    count++;
    return (whole.value as (...given: Parameters<Elimination['run']>) => unknown).apply(this, given);
  };
  Object.defineProperty(Elimination.prototype, 'run', { ...whole, value });
  try {
    does();
  } finally {
    Object.defineProperty(Elimination.prototype, 'run', whole);
  }
  return count;
}

/** A bridge of resistors at one source; the law of the last is to be given. */
const beside = (law: OwnLaw): Wired[] => [
  [4, 0, thevenin(0, 9)],
  [4, 5, thevenin(1e3)],
  [5, 0, law],
];

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

  test('takes over from another mode what bears on the states alike there, bit for bit what a new compiler makes', () => {
    const factor = fc.double({ min: 0.5, max: 2, noNaN: true });
    const drawn = { main: networks({ loops: true, islands: true }), rest: networks({ loops: true, islands: false }) };
    const choices = fc.array(fc.boolean(), { minLength: 25 });
    let takenOver = 0;
    let partly = 0;
    fc.assert(
      fc.property(drawn.main, drawn.rest, choices, choices, factor, (main, rest, open, changes, by) => {
        // Two modes of the same network: in the second some branches of one half are open, and others wires.
        const network = sideBySide(main.network, withoutCapacitors(rest));
        const one = [...main.laws, ...rest.laws];
        const closed = (index: number): OwnLaw => (open[(index + 7) % open.length]! ? { kind: 'open' } : thevenin(1e3));
        const two = [
          ...main.laws,
          ...rest.laws.map((law, index) => (open[index % open.length]! ? closed(index) : law)),
        ];
        const compiler = new ModeCompiler(network);
        const modes = [one, two].map((laws) => asMode(compiler.compile(laws)));
        modes.forEach(numbersOf);
        const half = main.laws.length;
        for (const round of [1, 2]) {
          const factors = main.laws.map((_, index) => (changes[(index + round) % changes.length]! ? by ** round : 1));
          const next = main.laws.map((law, index) => (factors[index] === 1 ? law : changed(law, factors[index]!)));
          const other = {
            ...network,
            capacitors: network.capacitors.map((each) => ({ ...each, capacitance: each.capacitance * by })),
          };
          expect(compiler.renew(other)).toBe(true);
          [one, two].forEach((before, which) => {
            const laws = [...next, ...before.slice(half)];
            const count = eliminations(() => expect(compiler.compile(laws, modes[which])).toBe(modes[which]));
            if (count === 0) takenOver++;
            else partly++;
            expect(numbersOf(modes[which]!)).toEqual(numbersOf(compile(other, laws)));
          });
        }
      }),
      { numRuns: 150 },
    );
    expect(takenOver).toBeGreaterThan(10);
    expect(partly).toBeGreaterThan(10);
  });

  test('is worked out once for all modes that differ only beyond a source, and for each where more differs', () => {
    const wired = (law: OwnLaw): Wired[] => [...ladder.map((each) => [...each] as Wired), ...beside(law)];
    const network = networkOf(6, wired(thevenin(1e3)), [
      [2, 0, 1e-6],
      [3, 0, 1e-7],
    ]);
    const states: OwnLaw[][] = [thevenin(1e3), { kind: 'open' } as const, thevenin(0), thevenin(2e3, 1)].map((law) =>
      lawsOf(wired(law)),
    );
    const compiler = new ModeCompiler(network);
    const modes = states.map((laws) => asMode(compiler.compile(laws)));
    const renewed = (second: OwnLaw, third: (laws: readonly OwnLaw[]) => OwnLaw): number[] => {
      expect(compiler.renew(network)).toBe(true);
      return states.map((laws, index) => {
        const next = [laws[0]!, second, third(laws), ...laws.slice(3)];
        const count = eliminations(() => void compiler.compile(next, modes[index]));
        expect(numbersOf(modes[index]!)).toEqual(numbersOf(compile(network, next)));
        return count;
      });
    };
    const [ofFirst] = states as [OwnLaw[]];
    for (const laws of states) laws[2] = ofFirst[2]!;
    // The potentials once with the capacitors, and once without them, where they come to rest.
    expect(renewed(thevenin(2e4), () => ofFirst[2]!)).toEqual([2, 0, 0, 0]);
    expect(renewed(thevenin(3e4), () => thevenin(2e3))).toEqual([2, 2, 2, 2]);
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

  test('takes nothing over where a source stands elsewhere, a branch leads elsewhere, or one more bears on the states', () => {
    // 5 V at net 1; an output at net 2, up or down; 1 kohm from there to the capacitor at net 3; a contact beside it.
    const wired = (upper: OwnLaw, lower: OwnLaw, contact: OwnLaw): Wired[] => [
      [1, 0, thevenin(0, 5, 0)],
      [1, 2, upper],
      [2, 0, lower],
      [2, 3, thevenin(1e3)],
      [3, 0, contact],
      [1, 4, thevenin(1e3)],
      [4, 0, thevenin(1e3)],
    ];
    const [open, joined, closed] = [{ kind: 'open' } as const, thevenin(0), thevenin(2e3)];
    const states = [
      [joined, open, open],
      [open, joined, open],
      [joined, open, closed],
      [open, joined, closed],
      [open, open, open],
      [open, open, closed],
    ] as const;
    const network = networkOf(5, wired(open, open, open), [[3, 0, 1e-6]]);
    const [source, , , , , ...divider] = lawsOf(wired(open, open, open));
    for (const order of [states, [...states].reverse()]) {
      const compiler = new ModeCompiler(network);
      const modes = order.map((state) =>
        asMode(compiler.compile([source!, state[0], state[1], thevenin(1e3), state[2], ...divider])),
      );
      for (const resistance of [3e3, 4e3]) {
        expect(compiler.renew(network)).toBe(true);
        const changing = thevenin(resistance);
        order.forEach(([upper, lower, contact], index) => {
          const laws = [source!, upper, lower, changing, contact, ...divider];
          expect(compiler.compile(laws, modes[index])).toBe(modes[index]);
          expect(numbersOf(modes[index]!)).toEqual(numbersOf(compile(network, laws)));
        });
      }
    }
  });

  test('has the capacitances of now where it is first met after they have changed, in a tree that was met before', () => {
    const compiler = new ModeCompiler(charged(1e-6, 1e-7));
    const mode = asMode(compiler.compile(lawsOf(ladder)));
    expect(compiler.renew(charged(3e-6, 2e-7))).toBe(true);
    const [source, , joining] = lawsOf(ladder) as [OwnLaw, OwnLaw, OwnLaw];
    const other = [source, thevenin(2e4), joining];
    expect(numbersOf(asMode(compiler.compile(other)))).toEqual(numbersOf(compile(charged(3e-6, 2e-7), other)));
    // The one before has them as soon as it is renewed, and not again the former ones.
    expect(compiler.compile(lawsOf(ladder), mode)).toBe(mode);
    expect(numbersOf(mode)).toEqual(numbersOf(compile(charged(3e-6, 2e-7), lawsOf(ladder))));
  });

  test('leaves the network of its compiler as it was where it cannot be renewed', () => {
    const compiler = new ModeCompiler(charged(1e-6, 1e-7));
    const mode = asMode(compiler.compile(lawsOf(ladder)));
    expect(compiler.renew(charged(1e-7, 1e-6))).toBe(false);
    expect(compiler.compile(lawsOf(ladder), mode)).toBe(mode);
    expect(numbersOf(mode)).toEqual(numbersOf(compile(charged(1e-6, 1e-7), lawsOf(ladder))));
  });
});
