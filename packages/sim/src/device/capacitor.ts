import { REVERSE_LIMIT } from '../circuit/part-limits.ts';
import type { CurrentElement, Device } from './contract.ts';
import { limitWatch } from './limit-watch.ts';
import { always, thevenin } from './pieces.ts';

/** A capacitance with optional leakage resistance across it and series resistance before it. */
export const capacitor: Device = {
  kind: 'capacitor',
  build(part, host) {
    const { capacitance, leakage, series, initial } = part.values as Record<string, number>;
    const outer = host.node(part.nets['a']!);
    const b = host.node(part.nets['b']!);
    const a = series! > 0 ? host.node(`${part.name}.inner`) : outer;
    const elements: CurrentElement[] = [
      { element: 'capacitor', index: host.capacitor(part.name, a, b, capacitance!, initial!), sign: 1 },
    ];
    if (Number.isFinite(leakage)) {
      const index = host.branch({ part: part.name, a, b, pieces: always(thevenin(0, leakage!)), start: 0 });
      elements.push({ element: 'branch', index, sign: 1 });
    }
    if (series! > 0) {
      host.branch({ part: part.name, a: outer, b: a, pieces: always(thevenin(0, series!)), start: 0 });
    }
    host.current(part.name, elements);
    const across = { plus: outer, minus: b };
    const rating = part.values['rating'] as number | undefined;
    if (part.values['polarised'] === true) {
      host.watch(limitWatch(part.name, { what: 'reverse-voltage', watch: across, least: -REVERSE_LIMIT }));
    }
    if (rating !== undefined) {
      host.watch(limitWatch(part.name, { what: 'over-voltage', watch: across, least: -rating, most: rating }));
    }
  },
};

/** The input of a measuring instrument: a resistance and a capacitance side by side; either may be 0 or endless. */
export const probe: Device = {
  kind: 'probe',
  build(part, host) {
    const { resistance, capacitance } = part.values as Record<string, number>;
    const a = host.node(part.nets['a']!);
    const b = host.node(part.nets['b']!);
    const index = host.branch({ part: part.name, a, b, pieces: always(thevenin(0, resistance!)), start: 0 });
    const elements: CurrentElement[] = [{ element: 'branch', index, sign: 1 }];
    if (capacitance! > 0) {
      elements.push({ element: 'capacitor', index: host.capacitor(part.name, a, b, capacitance!, 0), sign: 1 });
    }
    host.current(part.name, elements);
  },
};
