import type { Device } from './contract.ts';
import { fadingCurrent } from './pieces.ts';

/** A constant current from a to b that fades over the last volts, its headroom. */
export const source: Device = {
  kind: 'source',
  build(part, host) {
    const { current, headroom } = part.values as Record<string, number>;
    const index = host.branch({
      part: part.name,
      a: host.node(part.nets['a']!),
      b: host.node(part.nets['b']!),
      pieces: fadingCurrent(0, current!, headroom!),
      start: 2,
    });
    host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
  },
};
