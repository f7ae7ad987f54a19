import type { Device } from './contract.ts';
import { limitWatch } from './limit-watch.ts';
import { oneWay } from './pieces.ts';

function junction(kind: string): Device {
  return {
    kind,
    build(part, host) {
      const index = host.branch({
        part: part.name,
        a: host.node(part.nets['a']!),
        b: host.node(part.nets['b']!),
        pieces: oneWay(0, part.values['forward'] as number, part.values['slope'] as number),
        start: 0,
      });
      host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
      const limit = part.values['limit'] as number | undefined;
      if (limit !== undefined) {
        host.watch(limitWatch(part.name, { what: 'over-current', watch: { branch: index }, most: limit }));
      }
    },
  };
}

/** A diode: open below its forward voltage, then forward voltage plus slope resistance. */
export const diode = junction('diode');
/** A light-emitting diode; its light is proportional to its current. */
export const led = junction('led');
