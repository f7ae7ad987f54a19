import { REVERSE_LIMIT } from '../circuit/part-limits.ts';
import type { Device } from './contract.ts';
import { limitWatch } from './limit-watch.ts';
import { always, thevenin } from './pieces.ts';

const SILENT = 0;
const SOUNDING = 1;
/** After everything that acts: it only tells. */
const RANK = 4;

/** A resistance that tells when its voltage is enough for it to sound. */
export const buzzer: Device = {
  kind: 'buzzer',
  build(part, host) {
    const { resistance, least, most } = part.values as Record<string, number>;
    const plus = host.node(part.nets['plus']!);
    const minus = host.node(part.nets['minus']!);
    const index = host.branch({
      part: part.name,
      a: plus,
      b: minus,
      pieces: always(thevenin(0, resistance!)),
      start: 0,
    });
    host.current(part.name, [{ element: 'branch', index, sign: 1 }]);
    host.reactor({
      part: part.name,
      start: SILENT,
      slots: 0,
      timetable: [],
      guards: (state) => [
        state === SILENT
          ? { event: SOUNDING, rank: RANK, watch: { plus, minus, seen: 'plus above minus' }, offset: least! }
          : {
              event: SILENT,
              rank: RANK,
              watch: { plus: minus, minus: plus, seen: 'minus above plus' },
              offset: -least!,
            },
      ],
      react: (_, event) => ({
        state: event,
        pieces: [],
        schedule: [],
        cancel: [],
        records: [{ kind: event === SOUNDING ? 'sounding' : 'silent' }],
      }),
    });
    const across = { plus, minus };
    host.watch(limitWatch(part.name, { what: 'over-voltage', watch: across, most: most! }));
    host.watch(limitWatch(part.name, { what: 'reverse-voltage', watch: across, least: -REVERSE_LIMIT }));
  },
};
