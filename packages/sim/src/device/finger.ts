import { contactChanges } from './bounce.ts';
import { contactBranch, type Press } from './contact.ts';
import type { Device, DeviceHost } from './contract.ts';
import { always, thevenin } from './pieces.ts';

/**
 * A touching finger: while it touches, the skin's resistance joins the net to a body that has a capacitance to earth. The
 * body loses its charge through its leak to earth, touching or not. Where there is hum, mains reaches the body through a
 * small capacitance; seen from the body that is a smaller voltage behind both capacitances (Thevenin).
 */
export const finger: Device = {
  kind: 'finger',
  build(part, host) {
    const { capacitance, resistance, earth, hum, frequency, coupling } = part.values as Record<string, number>;
    const room = earthNode(part.name, part.values, host);
    const body = host.node(`${part.name}.body`);
    if (hum! > 0) {
      const total = capacitance! + coupling!;
      const amplitude = (hum! * coupling!) / total;
      const input = host.input(part.name, { shape: 'sine', frequency: frequency!, amplitude, offset: 0, phase: 0 });
      const driven = host.node(`${part.name}.hum`);
      const law = { kind: 'thevenin', input, offset: 0, resistance: 0 } as const;
      host.branch({ part: part.name, a: driven, b: room, pieces: always(law), start: 0 });
      host.capacitor(part.name, body, driven, total, 0);
    } else host.capacitor(part.name, body, room, capacitance!, 0);
    if (Number.isFinite(earth)) {
      host.branch({ part: part.name, a: body, b: room, pieces: always(thevenin(0, earth!)), start: 0 });
    }
    const plate = host.node(part.nets['a']!);
    const touches = contactChanges(part.values['touches'] as readonly Press[]);
    const index = contactBranch(part, host, plate, body, resistance!, false, touches);
    host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
  },
};

/** Node of the earth around the finger: ground, or a node that only stray capacitance joins to it. */
function earthNode(part: string, values: Readonly<Record<string, unknown>>, host: DeviceHost): number {
  if (values['earthed'] === true) return 0;
  const node = host.node(`${part}.earth`);
  host.capacitor(part, node, 0, values['stray'] as number, 0);
  return node;
}
