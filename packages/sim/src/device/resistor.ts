import { RESISTOR_RATING } from '../circuit/part-limits.ts';
import type { Device } from './contract.ts';
import { limitWatch } from './limit-watch.ts';
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

const plainResistor = twoEnded('resistor');

/** A linear resistor; 0 ohm joins its nets. Its power is watched by its voltage, the root of rating times resistance. */
export const resistor: Device = {
  kind: 'resistor',
  build(part, host) {
    plainResistor.build(part, host);
    const { resistance, rating = RESISTOR_RATING } = part.values as { resistance: number; rating?: number };
    if (resistance === 0) return;
    const most = Math.sqrt(rating * resistance);
    const across = { plus: host.node(part.nets['a']!), minus: host.node(part.nets['b']!) };
    host.watch(limitWatch(part.name, { what: 'over-power', watch: across, least: -most, most }));
  },
};
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
