import type { Branch, Capacitor, OwnLaw, Network } from '#sim/network/element.ts';
import fc from 'fast-check';
import { spread, volts } from './arbitrary-numbers.ts';

/** A network in one mode, with values for everything that has one at an instant. */
export interface NetworkCase {
  readonly network: Network;
  readonly laws: readonly OwnLaw[];
  /** One per capacitor (V). */
  readonly voltages: readonly number[];
  readonly inputs: readonly number[];
}

/** What a network may contain. */
export interface NetworkOptions {
  /** Capacitors that close loops with others, or lie across sources without resistance. */
  readonly loops: boolean;
  /** Nets that nothing holds. */
  readonly islands: boolean;
  /** Least and greatest resistance (Ω). */
  readonly ohms?: readonly [number, number];
  readonly farads?: readonly [number, number];
}

interface Drawn {
  readonly kind: 'resistor' | 'capacitor' | 'source' | 'wire' | 'current' | 'open';
  readonly a: number;
  readonly b: number;
  /** Voltage of a source, or of a resistor in series with its resistance; sets the size of a current. */
  readonly offset: number;
}

/** Constant currents reach 2 µA, so that even over 10 Mohm they make volts. */
const BIAS_PER_VOLT = 1e-7;

/** Groups of nodes, joined one pair at a time. */
class Groups {
  private readonly of: number[];
  constructor(count: number) {
    this.of = Array.from({ length: count }, (_, node) => node);
  }
  same(a: number, b: number): boolean {
    return this.of[a] === this.of[b];
  }
  join(a: number, b: number): void {
    const [from, to] = [this.of[b]!, this.of[a]!];
    this.of.forEach((group, node) => {
      if (group === from) this.of[node] = to;
    });
  }
}

/**
 * Random networks of 2 to 7 nodes in which no two sources without resistance contradict each other. Voltages are random,
 * so where capacitors close loops they contradict each other.
 */
export function networks(options: NetworkOptions): fc.Arbitrary<NetworkCase> {
  const { loops, islands, ohms = [1, 1e7], farads = [1e-10, 1e-2] } = options;
  return fc.integer({ min: 2, max: 7 }).chain((nodeCount) => {
    const node = fc.integer({ min: 0, max: nodeCount - 1 });
    const kinds = [
      'resistor',
      'resistor',
      'resistor',
      'capacitor',
      'capacitor',
      'source',
      'wire',
      'current',
      'open',
    ] as const;
    const drawn: fc.Arbitrary<Drawn> = fc.record({ kind: fc.constantFrom(...kinds), a: node, b: node, offset: volts });
    return fc
      .record({
        list: fc.array(drawn, { minLength: nodeCount, maxLength: 3 * nodeCount }),
        ohm: fc.array(spread(ohms[0], ohms[1]), { minLength: 4 * nodeCount, maxLength: 4 * nodeCount }),
        farad: fc.array(spread(farads[0], farads[1]), { minLength: 3 * nodeCount, maxLength: 3 * nodeCount }),
        voltages: fc.array(volts, { minLength: 3 * nodeCount, maxLength: 3 * nodeCount }),
        inputs: fc.array(volts, { minLength: 2, maxLength: 2 }),
      })
      .map(({ list, ohm, farad, voltages, inputs }) => {
        const sources = new Groups(nodeCount);
        const stiff = new Groups(nodeCount);
        const held = new Groups(nodeCount);
        const branches: Branch[] = [];
        const laws: OwnLaw[] = [];
        const capacitors: Capacitor[] = [];
        const add = (a: number, b: number, law: OwnLaw): void => {
          branches.push({ part: `B${branches.length}`, a, b });
          laws.push(law);
          if (law.kind === 'thevenin') held.join(a, b);
        };
        list.forEach(({ kind, a, b, offset }, index) => {
          if (kind === 'resistor')
            add(a, b, { kind: 'thevenin', input: index % 3 === 0 ? index % 2 : -1, offset, resistance: ohm[index]! });
          else if (kind === 'open') add(a, b, { kind: 'open' });
          else if (kind === 'current') add(a, b, { kind: 'current', current: offset * BIAS_PER_VOLT });
          else if (kind === 'capacitor') {
            if (!loops && stiff.same(a, b)) return;
            stiff.join(a, b);
            held.join(a, b);
            capacitors.push({ part: `C${capacitors.length}`, a, b, capacitance: farad[index]! });
          } else {
            // With loops allowed, capacitors may lie across sources; sources never close loops with each other.
            if ((loops ? sources : stiff).same(a, b)) return;
            sources.join(a, b);
            stiff.join(a, b);
            add(
              a,
              b,
              kind === 'wire'
                ? { kind: 'thevenin', input: -1, offset: 0, resistance: 0 }
                : { kind: 'thevenin', input: index % 2, offset, resistance: 0 },
            );
          }
        });
        for (let other = 1; !islands && other < nodeCount; other++) {
          if (!held.same(0, other))
            add(other, 0, { kind: 'thevenin', input: -1, offset: 0, resistance: ohm[3 * nodeCount + other]! });
        }
        return {
          network: { nodeCount, branches, capacitors, held: [], inputCount: 2 },
          laws,
          voltages: voltages.slice(0, capacitors.length),
          inputs,
        };
      });
  });
}
