import { GROUND } from '../circuit/names.ts';
import { standardKinds } from '../device/standard-kinds.ts';
import { isObject, ownEntry } from '../field/record.ts';
import { withValue } from './knob.ts';

/** One thing that is amiss at a part of a board, as something that can be done to its entry in the parts list. */
export type FaultStep =
  /** Fields with other values, as a document writes them. */
  | { readonly step: 'set'; readonly values: Readonly<Record<string, unknown>> }
  /** Two terminals change places. */
  | { readonly step: 'exchange'; readonly terminals: readonly [string, string] }
  /** A terminal lies where another one of the same part lies. */
  | { readonly step: 'join'; readonly terminal: string; readonly to: string }
  /** A resistance (Ω) between a terminal and what it was joined to. */
  | { readonly step: 'series'; readonly terminal: string; readonly resistance: number }
  /** A resistance (Ω) from one net to another, by the terminals that lay there before anything else was done. */
  | { readonly step: 'bridge'; readonly from: string; readonly to: string; readonly resistance: number }
  /** A silicon junction, likewise. */
  | { readonly step: 'junction'; readonly from: string; readonly to: string }
  /** A resistor (Ω) in place of the part. */
  | { readonly step: 'resistor'; readonly resistance: number }
  /** A silicon diode in place of the part, from the net of one terminal to that of another. */
  | { readonly step: 'diode'; readonly from: string; readonly to: string };

/** What a fault does to a board: steps at one part, in their order. Plain data. */
export interface FaultChange {
  readonly part: string;
  readonly steps: readonly FaultStep[];
}

type Entry = Readonly<Record<string, unknown>>;

/**
 * The entries that stand for a part of a parts list once a fault is in it: the part, changed, and what came with it under
 * names that are free. Undefined where the list has no such part.
 *
 * @param parts the parts as they stand in a file.
 */
export function faultyEntries(parts: readonly unknown[], { part, steps }: FaultChange): Entry[] | undefined {
  const entries = parts.filter(isObject);
  const found = entries.find((entry) => ownEntry(entry, 'name') === part);
  if (found === undefined) return undefined;
  const taken = new Set(entries.flatMap((entry) => [String(ownEntry(entry, 'name')), ...netsOf(entry).values()]));
  const free = (wanted: string): string => {
    let name = wanted;
    while (taken.has(name)) name += '_';
    taken.add(name);
    return name;
  };
  const before = netsOf(found);
  const place = (terminal: string): string => before.get(terminal) ?? GROUND;
  const extras: Entry[] = [];
  const resistor = (what: string, a: string, b: string, resistance: number): void => {
    extras.push({ name: free(`${part}_${what}`), kind: 'resistor', a, b, resistance });
  };
  let entry: Entry = found;
  for (const step of steps) {
    const nets = netsOf(entry);
    switch (step.step) {
      case 'set':
        entry = { ...entry, ...step.values };
        break;
      case 'exchange': {
        const [one, other] = step.terminals;
        entry = joined(joined(entry, one, nets.get(other)), other, nets.get(one));
        break;
      }
      case 'join':
        entry = joined(entry, step.terminal, place(step.to));
        break;
      case 'series': {
        const joint = free(`${part}_${step.terminal}_joint`);
        resistor(`${step.terminal}_series`, nets.get(step.terminal) ?? GROUND, joint, step.resistance);
        entry = joined(entry, step.terminal, joint);
        break;
      }
      case 'bridge':
        resistor('bridge', place(step.from), place(step.to), step.resistance);
        break;
      case 'junction':
        extras.push({ name: free(`${part}_junction`), kind: 'diode', a: place(step.from), b: place(step.to) });
        break;
      case 'resistor':
        entry = { name: part, kind: 'resistor', a: place('a'), b: place('b'), resistance: step.resistance };
        break;
      case 'diode':
        entry = { name: part, kind: 'diode', a: place(step.from), b: place(step.to) };
    }
  }
  return [entry, ...extras];
}

/** The nets of an entry by terminal, those left out not among them. */
function netsOf(entry: Entry): Map<string, string> {
  const kind = standardKinds.get(String(ownEntry(entry, 'kind')));
  const under = kind?.netsUnder === undefined ? entry : ownEntry(entry, kind.netsUnder);
  const nets = new Map<string, string>();
  for (const { name } of kind?.terminals ?? []) {
    const net = isObject(under) ? ownEntry(under, name) : undefined;
    if (typeof net === 'string') nets.set(name, net);
  }
  return nets;
}

/** An entry with one terminal on another net; off every net where none is given. */
function joined(entry: Entry, terminal: string, net: string | undefined): Entry {
  const under = standardKinds.get(String(ownEntry(entry, 'kind')))?.netsUnder;
  const steps = under === undefined ? [terminal] : [under, terminal];
  return withValue(entry, steps, net) as Entry;
}
