import { expect } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { GraphStore } from '#sim/engine/graph-store.ts';
import { OneStateRun } from '#sim/engine/one-state-run.ts';
import { edgeFeed } from '#sim/measure/edge-feed.ts';
import { highLevel, runCircuit } from '#sim/run/simulate.ts';
import { type Beat, beatOf } from '#sim/signal/beat.ts';

/** An edge of one of the nets asked for. */
export interface Edge {
  readonly which: number;
  readonly high: boolean;
  readonly at: number;
}

/** The edges of some nets up to a time, by the general engine. */
export function inFull(circuit: Circuit, nets: readonly string[], until: number): Edge[] {
  const level = highLevel(circuit);
  const edges: Edge[] = [];
  const feed = edgeFeed(
    nets.map((net) => ({ net, level })),
    { from: 0, until },
    ({ which, high, at }) => edges.push({ which, high, at: at.high }),
  );
  expect(runCircuit(circuit, { until, observers: [feed] }).ok).toBe(true);
  return edges;
}

/** The same by the short way; undefined where it gives up. */
export function shortly(circuit: Circuit, nets: readonly string[], until: number): Edge[] | undefined {
  const prepared = new GraphStore(standardDevices).prepare(circuit);
  const { inputs, nodeNames } = prepared.program;
  const index = inputs.findIndex(({ wave }) => beatOf(wave) !== undefined);
  const beat = index < 0 ? undefined : beatOf(inputs[index]!.wave);
  // The first one is only counted.
  const watched = ['rail', ...nets].map((net) => ({ signal: nodeNames.indexOf(net), level: highLevel(circuit) }));
  const run = new OneStateRun(prepared, watched, beat && { index, rest: beat.rest, raised: beat.raised });
  const edges: Edge[] = [];
  const done = run.run(beat, { from: 0, until }, 1e6, (which, high) =>
    edges.push({ which: which - 1, high, at: run.edges.at }),
  );
  return done ? edges : undefined;
}

/** Expects the same edges, at the same times to rounding. */
export function expectSame(short: readonly Edge[] | undefined, full: readonly Edge[]): void {
  expect(short?.map(({ which, high }) => [which, high])).toEqual(full.map(({ which, high }) => [which, high]));
  // Both are exact to rounding; a capacitor that has hardly emptied makes the next interval worse conditioned.
  short?.forEach(({ at }, i) => expect(Math.abs(at - full[i]!.at)).toBeLessThanOrEqual(1e-12 * full[i]!.at));
}

/** The short way through a circuit whose signal is G1, edges of `out` told and those of `in` counted; and the signal's beat. */
export function prepareShort(circuit: Circuit): { readonly run: OneStateRun; readonly beat: Beat } {
  const prepared = new GraphStore(standardDevices).prepare(circuit);
  const watched = ['in', 'out'].map((net) => ({
    signal: prepared.program.nodeNames.indexOf(net),
    level: highLevel(circuit),
  }));
  const { wave } = prepared.program.inputs.find(({ part }) => part === 'G1')!;
  return { run: OneStateRun.of(prepared, watched, 'G1')!, beat: beatOf(wave)! };
}

/** How many edges a run tells: those of `out`, and those of `in` between them. */
export interface EdgeSums {
  outRises: number;
  outFalls: number;
  rises: number;
  falls: number;
}

/**
 * Sums the edges of a run, told one by one, or by whole cycles where it offers them.
 *
 * @returns the sums, and how many cycles were taken as a whole.
 */
export function edgeSums(
  { run, beat }: ReturnType<typeof prepareShort>,
  window: { readonly from: number; readonly until: number },
  by: 'edges' | 'cycles',
): { readonly sums: EdgeSums; readonly cycles: number } {
  const sums: EdgeSums = { outRises: 0, outFalls: 0, rises: 0, falls: 0 };
  let before = { ...sums };
  let cycles = 0;
  const counter = {
    begin: () => void (before = { ...sums }),
    again(times: number) {
      cycles += times;
      for (const name of ['outRises', 'outFalls', 'rises', 'falls'] as const)
        sums[name] += times * (sums[name] - before[name]);
    },
  };
  const onEdge = (_: number, high: boolean): void => {
    sums[high ? 'outRises' : 'outFalls']++;
    sums.rises += run.edges.rises;
    sums.falls += run.edges.falls;
  };
  expect(run.run(beat, window, 1e6, onEdge, by === 'cycles' ? counter : undefined)).toBe(true);
  return { sums, cycles };
}
