import type { OwnLaw } from '#sim/network/element.ts';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type BigReal, big, bigSolve, magnitude, ONE, over, times, toDouble } from '../../support/big-real.ts';
import { ModeState } from '../../support/mode-state.ts';
import { type NetworkCase, networks } from '../../support/random-network.ts';
import { compile, stateOf, voltsOf, amperesOf, allAmperes } from '../../support/compiled-mode.ts';

describe('ModeCompiler.compile() against nodal analysis in 512-bit arithmetic', () => {
  /** Node voltages, then currents of capacitors, then of ideal sources, each capacitor taken as a source of its voltage. */
  function nodalAnalysis({
    network,
    laws,
    voltages,
    inputs,
  }: NetworkCase): { nodes: BigReal[]; capacitors: BigReal[]; branches: BigReal[] } | undefined {
    const { nodeCount, branches, capacitors } = network;
    const ideal = branches.flatMap((_, index) => {
      const law = laws[index]!;
      return law.kind === 'thevenin' && law.resistance === 0 ? [index] : [];
    });
    const free = nodeCount - 1;
    const size = free + capacitors.length + ideal.length;
    const a = Array.from({ length: size }, () => new Array<BigReal>(size).fill(0n));
    const b = new Array<BigReal>(size).fill(0n);
    const stamp = (row: number, column: number, value: BigReal): void => {
      if (row > 0 && column > 0) a[row - 1]![column - 1]! += value;
    };
    const push = (node: number, value: BigReal): void => {
      if (node > 0) b[node - 1]! += value;
    };
    const level = (law: OwnLaw & { kind: 'thevenin' }): BigReal =>
      big(law.offset) + (law.input < 0 ? 0n : big(inputs[law.input]!));
    branches.forEach(({ a: p, b: q }, index) => {
      const law = laws[index]!;
      if (law.kind === 'current') {
        push(p, -big(law.current));
        push(q, big(law.current));
      } else if (law.kind === 'thevenin' && law.resistance > 0 && p !== q) {
        const g = over(ONE, big(law.resistance));
        stamp(p, p, g);
        stamp(q, q, g);
        stamp(p, q, -g);
        stamp(q, p, -g);
        push(p, times(g, level(law)));
        push(q, -times(g, level(law)));
      }
    });
    const fix = (at: number, p: number, q: number, value: BigReal): void => {
      for (const [node, sign] of [
        [p, ONE],
        [q, -ONE],
      ] as const) {
        if (node === 0) continue;
        a[at]![node - 1]! += sign;
        a[node - 1]![at]! += sign;
      }
      b[at] = value;
    };
    capacitors.forEach(({ a: p, b: q }, index) => fix(free + index, p, q, big(voltages[index]!)));
    ideal.forEach((branch, index) => {
      const { a: p, b: q } = branches[branch]!;
      fix(free + capacitors.length + index, p, q, level(laws[branch] as OwnLaw & { kind: 'thevenin' }));
    });
    let x: BigReal[];
    try {
      x = bigSolve(a, b);
    } catch {
      return undefined;
    }
    const nodes = [0n, ...x.slice(0, free)];
    const currents = branches.map(({ a: p, b: q }, index) => {
      const law = laws[index]!;
      if (law.kind === 'current') return big(law.current);
      if (law.kind === 'open') return 0n;
      if (law.resistance === 0) return x[free + capacitors.length + ideal.indexOf(index)]!;
      return over(nodes[p]! - nodes[q]! - level(law), big(law.resistance));
    });
    return { nodes, capacitors: x.slice(free, free + capacitors.length), branches: currents };
  }

  /** What 512 bits leave in place of nothing. */
  const ZERO = 1e-140;

  /** The currents that unit voltages draw: the conductance matrix that the capacitors see, C x' = -K x. */
  function seenConductance(drawn: NetworkCase): BigReal[][] | undefined {
    const { capacitors } = drawn.network;
    const silent = drawn.laws.map(
      (law): OwnLaw => (law.kind === 'thevenin' ? { ...law, input: -1, offset: 0 } : { kind: 'open' }),
    );
    const columns = capacitors.map((_, k) =>
      nodalAnalysis({ ...drawn, laws: silent, voltages: capacitors.map((_unused, i) => (i === k ? 1 : 0)) }),
    );
    if (columns.some((column) => column === undefined)) return undefined;
    return capacitors.map((_, i) => columns.map((column) => -column!.capacitors[i]!));
  }

  function determinant(matrix: readonly (readonly BigReal[])[]): BigReal {
    const rows = matrix.map((row) => [...row]);
    let product = ONE;
    for (let column = 0; column < rows.length; column++) {
      let best = column;
      for (let i = column + 1; i < rows.length; i++) {
        if (magnitude(rows[i]![column]!) > magnitude(rows[best]![column]!)) best = i;
      }
      if (rows[best]![column] === 0n) return 0n;
      if (best !== column) product = -product;
      [rows[column], rows[best]] = [rows[best]!, rows[column]!];
      product = times(product, rows[column]![column]!);
      for (let i = column + 1; i < rows.length; i++) {
        const factor = over(rows[i]![column]!, rows[column]![column]!);
        rows[i] = rows[i]!.map((value, j) => value - times(factor, rows[column]![j]!));
      }
    }
    return product;
  }

  /** By how much of itself a rate moves to become an exact one: Newton's step for det(C^-1 K / rate - 1) = 0. */
  function errorOfRate(seen: readonly (readonly BigReal[])[], { network }: NetworkCase, rate: number): number {
    const scaled = seen.map((row, i) =>
      row.map((value) => over(over(value, big(network.capacitors[i]!.capacitance)), big(rate))),
    );
    const at = (share: BigReal): BigReal =>
      determinant(scaled.map((row, i) => row.map((value, j) => (i === j ? value - share : value))));
    const step = ONE >> 200n;
    const here = at(ONE);
    const slope = over(at(ONE + step) - here, step);
    return slope === 0n ? Number.POSITIVE_INFINITY : Math.abs(toDouble(over(here, slope)));
  }

  test('every rate is an exact one but for 1e-12 of itself, however far apart the rates are', () => {
    fc.assert(
      fc.property(networks({ loops: false, islands: false }), (drawn) => {
        const seen = seenConductance(drawn);
        fc.pre(seen !== undefined);
        for (const rate of compile(drawn.network, drawn.laws).rates) {
          if (rate > 0) expect(errorOfRate(seen, drawn, rate)).toBeLessThanOrEqual(1e-12);
        }
      }),
    );
  });

  test('where all comes to rest is exact to a few roundings, however far apart the rates are', () => {
    fc.assert(
      fc.property(networks({ loops: true, islands: false }), (drawn) => {
        const mode = compile(drawn.network, drawn.laws);
        fc.pre(mode.stateCount > 0 && mode.rates[0]! > 0);
        const still = nodalAnalysis({ ...drawn, network: { ...drawn.network, capacitors: [] }, voltages: [] });
        fc.pre(still !== undefined);
        const state = new ModeState(mode, drawn.voltages, { values: drawn.inputs });
        // A thousand slowest time constants later.
        const end = 1e3 / mode.rates[0]!;
        mode.nodes.all().forEach((readout, node) => {
          const error = Math.abs(state.at(readout, end) - toDouble(still.nodes[node]!));
          expect(error).toBeLessThanOrEqual(32 * Number.EPSILON * voltsOf(drawn));
        });
      }),
    );
  });

  test('node voltages and all currents agree, with resistances over seven and capacitances over eight decades', () => {
    fc.assert(
      fc.property(networks({ loops: false, islands: false }), (drawn) => {
        const exact = nodalAnalysis(drawn);
        fc.pre(exact !== undefined);
        const state = stateOf(drawn);
        const { mode } = state;
        mode.nodes.all().forEach((readout, node) => {
          expect(Math.abs(state.at(readout) - toDouble(exact.nodes[node]!))).toBeLessThanOrEqual(
            1e-12 * (voltsOf(drawn) * (1 + readout.scale)),
          );
        });
        mode.branchCurrents.all().forEach((readout, index) => {
          const size = amperesOf(drawn, drawn.laws[index]!) ?? allAmperes(drawn);
          expect(Math.abs(state.at(readout) - toDouble(exact.branches[index]!))).toBeLessThanOrEqual(
            1e-12 * size + ZERO,
          );
        });
        // That the capacitors' currents agree at every state is that the equations of motion do.
        mode.capacitorCurrents.all().forEach((readout, index) => {
          const size = allAmperes(drawn);
          expect(Math.abs(state.at(readout) - toDouble(exact.capacitors[index]!))).toBeLessThanOrEqual(
            1e-12 * size + ZERO,
          );
        });
      }),
    );
  });
});
