import type { Circuit } from '#sim/circuit/description.ts';
import { Driver } from '#sim/engine/driver.ts';
import type { Program } from '#sim/engine/program.ts';
import type { SituationGraph } from '#sim/engine/situation-graph.ts';
import type { Observer } from '#sim/trace/observer.ts';

/** All that a run shows, bit for bit, down to the checkpoint at its end. */
export function everything(program: Program, until: number, maxEvents: number, graph?: SituationGraph): unknown[] {
  const seen: unknown[] = [];
  const observer: Observer = {
    event: (event) => seen.push(event),
    segment: ({ start, startLow, length, amplitudes, frame }) => {
      frame.need?.();
      const { rates, rows, constants, slopes } = frame;
      seen.push([start, startLow, length, ...amplitudes.subarray(0, rates.length)]);
      seen.push([...rates, ...rows, ...constants, ...slopes]);
    },
  };
  const driver = new Driver(program, [observer], undefined, graph);
  const outcome = driver.advance(until, { maxEvents, countPeriods: true });
  return [...seen, outcome, driver.checkpoint()];
}

/** A circuit with other numbers in the same places. */
export function renumbered(circuit: Circuit, factors: readonly number[]): Circuit {
  let turn = 0;
  const other = (value: unknown): unknown => {
    if (typeof value === 'number') return Number.isFinite(value) ? value * factors[turn++ % factors.length]! : value;
    return value;
  };
  const parts = circuit.parts.map((part) => {
    const values = Object.fromEntries(
      Object.entries(part.values).map(([name, value]) => {
        if (name !== 'parameters') return [name, other(value)];
        return [name, Object.fromEntries(Object.entries(value as object).map(([key, each]) => [key, other(each)]))];
      }),
    );
    return { ...part, values };
  });
  return { ...circuit, parts };
}
