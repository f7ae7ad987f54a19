import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Circuit } from '#sim/circuit/description.ts';
import { checkCircuit } from '#sim/circuit/check-circuit.ts';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { standardKinds } from '#sim/device/standard-kinds.ts';
import { buildProgram } from '#sim/engine/program.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { StoredTrace } from '#sim/trace/recorder.ts';
import '../support/costly-runs.ts';
import { circuitOf } from '../support/circuit-issues.ts';
import { looseCircuits } from '../support/random-loose-nets.ts';

/** Far more events than any of these circuits needs. */
const BUDGET = 2000;
/** See `STRAY_CAPACITANCE`. */
const STRAY = 10e-12;

const accepted = looseCircuits
  .map(({ parts, until }) => ({ parts, until, circuit: checkCircuit({ parts }, standardKinds).circuit }))
  .filter((drawn): drawn is typeof drawn & { circuit: Circuit } => drawn.circuit !== undefined);

function told(circuit: Circuit, until: number): { trace: StoredTrace; code: string } {
  const trace = new StoredTrace();
  const { code } = runCircuit(circuit, { until, observers: [trace], maxEvents: BUDGET, countPeriods: false });
  return { trace, code };
}

test('nets that nothing holds in some modes never make a run chatter, nor use up its events', () => {
  fc.assert(
    fc.property(accepted, ({ circuit, until }) => {
      expect(told(circuit, until).code).toBe('reached');
    }),
  );
});

test('nets that currents move behave as if their strays had been drawn', () => {
  fc.assert(
    fc.property(accepted, fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 5 }), (drawn, shares) => {
      const { parts, circuit, until } = drawn;
      const program = buildProgram(circuit, standardDevices);
      const held = program.network.held.map((node) => program.nodeNames[node]!);
      const { trace } = told(circuit, until);
      const strays = held.map((net, k) => ({
        name: `CS${k}`,
        kind: 'capacitor',
        ...{ a: net, b: 'ground', capacitance: STRAY, leakage: 'none', series: 0 },
        initial: trace.at({ net }, 0),
      }));
      const other = told(circuitOf([...parts, ...strays]), until).trace;
      const moments = trace.events.map(({ time }) => time);
      for (const share of shares) {
        const time = share * until;
        // Close to an event what a nanosecond does to a net is a matter of rounding.
        if (moments.some((moment) => Math.abs(time - moment) < 1e-7)) continue;
        for (const net of held) {
          expect(Math.abs(trace.at({ net }, time) - other.at({ net }, time))).toBeLessThanOrEqual(1e-6);
        }
      }
    }),
  );
});
