import type { CircuitView } from './circuit-view.ts';
import { type ConductingLink, conductingLinks } from './conducting-links.ts';
import type { Part } from './description.ts';

/**
 * Windings whose current has nowhere to go when it is switched off, and diodes across windings that conduct while these
 * are on. The kick itself is not computed: inductance is left out of every run.
 */
export function windingDangers(view: CircuitView): string[] {
  return [...view.ofKind('relay'), ...view.ofKind('solenoid')].flatMap((part) => {
    const { a = '', b = '' } = part.nets;
    return [...wayDangers(view, part, a, b), ...wayDangers(view, part, b, a)];
  });
}

/** What is wrong where current may be driven through a winding from one net to the other. */
function wayDangers(view: CircuitView, part: Part, from: string, to: string): string[] {
  const { name, values } = part;
  const resistance = values.resistance as number;
  const link = { part: name, from, to, resistance, drop: 0, most: Infinity, through: 'other' } as const;
  if (view.paths.through(link, 0) === undefined) return [];
  const wrong = view.circuit.parts.filter(({ kind, nets }) => kind === 'diode' && nets.a === from && nets.b === to);
  const turned = wrong.map(
    (diode) =>
      `${diode.name} lies across the winding of ${name} the wrong way round: it takes the current that is meant for ${name}. Its cathode belongs at ${from}.`,
  );
  if (turned.length > 0 || takesOver(view, link)) return turned;
  return [
    `${name}: nothing takes over the current of its winding when it is switched off. The kick, which is not computed, damages what switches it: put a diode across it, cathode at ${from}.`,
  ];
}

/**
 * Whether diodes, or resistors no larger than the winding, lead from its end back to its beginning: the kick then is no
 * more than the voltage that drove the current, and what the diodes keep.
 */
function takesOver({ circuit }: CircuitView, winding: ConductingLink): boolean {
  const parts = circuit.parts.filter(({ kind }) => kind === 'diode' || kind === 'led' || kind === 'resistor');
  const links = conductingLinks({ parts, nets: circuit.nets });
  /** Least resistance from the winding's end (Ω). */
  const reached = new Map([[winding.to, 0]]);
  for (let grown = true; grown; ) {
    grown = false;
    for (const { part, from, to, resistance } of links) {
      const before = reached.get(from);
      // The slope of a diode is its own affair: it gives way at some volts however steep it is.
      const isDiode = parts.some(({ name, kind }) => name === part && kind !== 'resistor');
      const way = (before ?? Infinity) + (isDiode ? 0 : resistance);
      if (way > winding.resistance || way >= (reached.get(to) ?? Infinity)) continue;
      reached.set(to, way);
      grown = true;
    }
  }
  return reached.has(winding.from);
}
