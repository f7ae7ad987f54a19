import type { Device } from './contract.ts';
import { always, thevenin } from './pieces.ts';

function twoEnded(kind: string): Device {
  return {
    kind,
    build(part, host) {
      const index = host.branch({
        part: part.name,
        a: host.node(part.nets['a']!),
        b: host.node(part.nets['b']!),
        pieces: always(thevenin(0, part.values['resistance'] as number)),
        start: 0,
      });
      host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
    },
  };
}

/** A linear resistor; 0 ohm joins its nets. */
export const resistor = twoEnded('resistor');
/** A loudspeaker: the resistance of its coil. */
export const speaker = twoEnded('speaker');

/** Two resistors that share one track; position 0 has the wiper at a. Each leg keeps the end resistance. */
export const pot: Device = {
  kind: 'pot',
  build(part, host) {
    const { resistance, position, end } = part.values as Record<string, number>;
    const wiper = host.node(part.nets['wiper']!);
    const index = host.branch({
      part: part.name,
      a: host.node(part.nets['a']!),
      b: wiper,
      pieces: always(thevenin(0, end! + position! * resistance!)),
      start: 0,
    });
    host.branch({
      part: part.name,
      a: wiper,
      b: host.node(part.nets['b']!),
      pieces: always(thevenin(0, end! + (1 - position!) * resistance!)),
      start: 0,
    });
    host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
  },
};
