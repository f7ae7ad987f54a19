import type { Wave } from '../signal/wave.ts';
import type { Part } from '../circuit/description.ts';
import type { Device, DeviceHost } from './contract.ts';
import { always } from './pieces.ts';

/** A change of the supply's voltage: from `at` it goes to `voltage`, in a straight line over `over` seconds. */
interface SupplyChange {
  readonly at: number;
  readonly voltage: number;
  readonly over: number;
}

/** The wave of a supply that starts at `voltage` (V) and changes as listed. */
function supplyWave(voltage: number, changes: readonly SupplyChange[]): Wave {
  if (changes.length === 0) return { shape: 'constant', level: voltage };
  const points: [number, number][] = [];
  let level = voltage;
  for (const change of changes) {
    points.push([change.at, level], [change.at + change.over, change.voltage]);
    level = change.voltage;
  }
  return { shape: 'points', points, between: 'lines' };
}

function drivenBranch(part: Part, host: DeviceHost, wave: Wave): void {
  const input = host.input(part.name, wave);
  const index = host.branch({
    part: part.name,
    a: host.node(part.nets['plus']!),
    b: host.node(part.nets['minus']!),
    pieces: always({ kind: 'thevenin', input, offset: 0, resistance: part.values['resistance'] as number }),
    start: 0,
  });
  host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
}

/** A battery or power supply: a voltage behind a resistance. */
export const supply: Device = {
  kind: 'supply',
  drives: ['voltage', 'changes', 'origin'],
  build(part, host) {
    const changes = part.values['changes'] as readonly SupplyChange[];
    drivenBranch(part, host, supplyWave(part.values['voltage'] as number, changes));
  },
};

/** A signal generator or sensor: a wave behind a resistance. */
export const signal: Device = {
  kind: 'signal',
  drives: ['wave'],
  build(part, host) {
    drivenBranch(part, host, part.values['wave'] as Wave);
  },
};
