import type { Part } from '../circuit/description.ts';
import type { DeviceHost } from './contract.ts';

/** Nodes of a timer's pins; `lower` is the trigger reference inside. RESET and DISCHARGE may be left out. */
export interface Pins {
  readonly supply: number;
  readonly ground: number;
  readonly trigger: number;
  readonly threshold: number;
  readonly output: number;
  readonly control: number;
  readonly lower: number;
  readonly reset: number | undefined;
  readonly discharge: number | undefined;
}

/** The nodes of a timer's pins, CONTROL and the trigger reference made where no net is given. */
export function timerNodes(part: Part, host: DeviceHost): Pins {
  const optional = (pin: string): number | undefined =>
    part.nets[pin] === undefined ? undefined : host.node(part.nets[pin]);
  return {
    supply: host.node(part.nets['supply']!),
    ground: host.node(part.nets['ground']!),
    trigger: host.node(part.nets['trigger']!),
    threshold: host.node(part.nets['threshold']!),
    output: host.node(part.nets['output']!),
    control: host.node(part.nets['control'] ?? `${part.name}.control`),
    lower: host.node(`${part.name}.lower`),
    reset: optional('reset'),
    discharge: optional('discharge'),
  };
}
