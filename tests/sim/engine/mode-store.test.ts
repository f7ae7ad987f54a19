import { expect, test } from 'vitest';
import { standardDevices } from '#sim/device/standard-devices.ts';
import { ModeStore } from '#sim/engine/mode-store.ts';
import { buildProgram, type Program } from '#sim/engine/program.ts';
import { runCircuit } from '#sim/run/simulate.ts';
import { circuitOf } from '../../support/circuit-issues.ts';
import { lowPulses, monostable, signal } from '../../support/timer-circuits.ts';

function parts(resistance: number, period: number): object[] {
  return [
    ...monostable({ voltage: 9, resistance, capacitance: 1e-7, ofTimer: { family: 'bipolar' } }),
    signal('G1', 'in', lowPulses(9, { period, width: 1e-4 })),
  ];
}

const program = (resistance: number, period: number): Program =>
  buildProgram(circuitOf(parts(resistance, period)), standardDevices);

test('ModeStore.modesOf() gives the same modes for the same network, whatever drives it', () => {
  const store = new ModeStore();
  const modes = store.modesOf(program(22e3, 1e-3));
  expect(store.modesOf(program(22e3, 2e-3))).toBe(modes);
  expect(store.modesOf(program(22.1e3, 1e-3))).not.toBe(modes);
});

test('ModeStore.modesOf() gives up the network that was used least lately', () => {
  const store = new ModeStore();
  const modes = store.modesOf(program(1e3, 1e-3));
  for (let k = 1; k <= 15; k++) store.modesOf(program(1e3 + k, 1e-3));
  expect(store.modesOf(program(1e3, 1e-3))).toBe(modes);
  for (let k = 16; k <= 31; k++) store.modesOf(program(1e3 + k, 1e-3));
  expect(store.modesOf(program(1e3, 1e-3))).not.toBe(modes);
});

test('runCircuit() sees the same, to the last bit, with modes kept from other runs', () => {
  const modes = new ModeStore();
  const events = (period: number, kept?: ModeStore): unknown[] => {
    const seen: unknown[] = [];
    const observers = [{ event: (event: object): void => void seen.push({ ...event }) }];
    runCircuit(circuitOf(parts(22e3, period)), { until: 0.02, observers, modes: kept });
    return seen;
  };
  for (const period of [1e-3, 1.3e-3, 1e-3]) expect(events(period, modes)).toEqual(events(period));
});
