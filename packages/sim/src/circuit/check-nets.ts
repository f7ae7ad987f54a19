import type { Issue } from '../core/errors.ts';
import { nearestName } from '../core/nearest-name.ts';
import type { Circuit, Part, PartKind, PartKinds } from './description.ts';
import { floatingNets, netsCutOffWhenOpen } from './floating-nets.ts';
import { GROUND } from './names.ts';
import { partIssue, type ReadPart } from './read-part.ts';
import { sourceLoops } from './source-loops.ts';

/** One end of a part on a net. */
interface End {
  readonly part: string;
  readonly terminal: string;
  /** The terminal as fields are named, for example `pins.output`. */
  readonly field: string;
  readonly mayStandAlone: boolean;
}

/** Names beyond this number are counted, not listed, so that a message stays readable. */
const MOST_LISTED = 8;

/**
 * Looks at the circuit as a whole: no `ground`, terminals that must be apart, loops of sources, floating nets, lone
 * terminals, nets isolated while a switch is open. Parts with faults of their own are given the benefit of the doubt:
 * they count as joining whatever they mention.
 */
export function checkNets(entries: readonly ReadPart[], kinds: PartKinds, place: string): Issue[] {
  const parts = entries.flatMap((entry) => (entry.part === undefined ? [] : [entry.part]));
  const doubtful = entries.filter((entry) => entry.part === undefined);
  const nets = [...new Set(entries.flatMap((entry) => entry.mentioned))];
  const circuit: Circuit = { parts, nets };
  const look = { circuit, kinds, place, ends: endsByNet(parts, kinds) };
  const issues = [...apartIssues(look), ...loopIssues(look)];
  if (doubtful.some((entry) => entry.netsUnclear)) return issues;
  if (!nets.includes(GROUND)) return [noGround(place, nets), ...issues];

  const widened = withDoubtful(circuit, doubtful, kinds);
  const doubted = new Set(doubtful.flatMap((entry) => entry.mentioned));
  const floating = floatingNets(widened.circuit, widened.kinds);
  issues.push(...floating.map((group) => floatingIssue(look, group)));
  const known = new Set(floating.flat());
  const lone = nets.filter(
    (net) => net !== GROUND && !known.has(net) && !doubted.has(net) && look.ends.get(net)?.length === 1,
  );
  issues.push(...lone.flatMap((net) => loneIssue(look, net)));
  const loneNets = new Set(lone);
  const cutOff = netsCutOffWhenOpen(widened.circuit, widened.kinds)
    .map((group) => group.filter((net) => !known.has(net)))
    .filter((group) => !group.every((net) => loneNets.has(net)));
  issues.push(...cutOff.map((group) => cutOffIssue(look, group)));
  return issues;
}

interface Look {
  readonly circuit: Circuit;
  readonly kinds: PartKinds;
  readonly place: string;
  readonly ends: ReadonlyMap<string, readonly End[]>;
}

function noGround(place: string, nets: readonly string[]): Issue {
  const label = place === '' ? 'circuit' : place;
  const near = nearestName(GROUND, nets);
  const advice =
    near === undefined ? 'Name the net of the supply\'s minus "ground".' : `Did you mean it where you wrote ${near}?`;
  const message = `must have a net named ground, from which voltages are counted; got ${listed(nets, 'no net at all')}. ${advice}`;
  return partIssue('no-ground', { place: '' }, label, undefined, message);
}

function apartIssues({ circuit, kinds, place }: Look): Issue[] {
  return circuit.parts.flatMap((part) => {
    const kind = kinds.get(part.kind);
    return (kind?.apart ?? []).flatMap(([a, b]) => {
      const net = part.nets[a];
      if (net === undefined || net !== part.nets[b]) return [];
      const message = `must be on another net than ${b}; got ${net} for both. Join them to different nets.`;
      return [partIssue('same-net', { place }, part.name, fieldOf(kind, a), message, part.name)];
    });
  });
}

function loopIssues({ circuit, kinds, place }: Look): Issue[] {
  return sourceLoops(circuit, kinds).map((loop) => {
    const last = loop.at(-1) ?? '';
    const got = loop.length === 1 ? `${last} with both ends on one net` : `the loop of ${loop.join(', ')}`;
    const message = `must not be in a loop of sources without resistance; got ${got}. Give one of them a resistance, such as 0.5 Ω, or open the loop.`;
    return partIssue('source-loop', { place }, last, undefined, message, last);
  });
}

function floatingIssue(look: Look, group: readonly string[]): Issue {
  const message = `must be on a net that some part can hold; got ${netsText(group)}, from which no part leads to ground. Join it to ground or to a supply, through a resistor for example.`;
  return netIssue(look, 'floating-net', group, message, 'fault');
}

function loneIssue(look: Look, net: string): Issue[] {
  const [end] = look.ends.get(net) ?? [];
  if (end === undefined || end.mayStandAlone) return [];
  const near = nearestName(net, look.circuit.nets);
  const advice = near === undefined ? 'Join something to it if that is not meant.' : `Did you mean ${near}?`;
  const message = `must be joined to some other part; got net ${net}, on which there is nothing else. ${advice}`;
  return [netIssue(look, 'lone-terminal', [net], message, 'warning')];
}

function cutOffIssue(look: Look, group: readonly string[]): Issue {
  const message = `must be on a net that is held in every position of the switches; got ${netsText(group)}, which nothing holds while they are open. It keeps its last voltage then; add a resistor to ground or to a supply if that is not meant.`;
  return netIssue(look, 'isolated-net', group, message, 'warning');
}

/** An issue about nets, placed at the first part's end on them. */
function netIssue(
  look: Look,
  code: string,
  nets: readonly string[],
  message: string,
  severity: Issue['severity'],
): Issue {
  const [end] = nets.flatMap((net) => look.ends.get(net) ?? []);
  const label = end?.part ?? `net ${nets[0]}`;
  return partIssue(code, look, label, end?.field, message, end?.part, severity);
}

function endsByNet(parts: readonly Part[], kinds: PartKinds): Map<string, End[]> {
  const ends = new Map<string, End[]>();
  for (const part of parts) {
    const kind = kinds.get(part.kind);
    for (const [terminal, net] of Object.entries(part.nets)) {
      const mayStandAlone = kind?.terminals.find(({ name }) => name === terminal)?.mayStandAlone ?? false;
      const end = { part: part.name, terminal, field: fieldOf(kind, terminal), mayStandAlone };
      const known = ends.get(net);
      if (known === undefined) ends.set(net, [end]);
      else known.push(end);
    }
  }
  return ends;
}

function fieldOf(kind: PartKind | undefined, terminal: string): string {
  return kind?.netsUnder === undefined ? terminal : `${kind.netsUnder}.${terminal}`;
}

/** The circuit with every part that has faults put in as something that joins all nets it mentions. */
function withDoubtful(
  circuit: Circuit,
  doubtful: readonly ReadPart[],
  kinds: PartKinds,
): { circuit: Circuit; kinds: PartKinds } {
  const stand: PartKind = {
    kind: '(with faults)',
    title: 'a part with faults',
    terminals: [],
    fields: [],
    paths: (part) => Object.keys(part.nets).map((terminal) => ['0', terminal] as const),
    sources: () => [],
  };
  const parts = doubtful.map(
    (entry): Part => ({
      name: entry.label,
      kind: stand.kind,
      nets: Object.fromEntries(entry.mentioned.entries()),
      values: {},
    }),
  );
  return {
    circuit: { ...circuit, parts: [...circuit.parts, ...parts] },
    kinds: new Map([...kinds, [stand.kind, stand]]),
  };
}

function netsText(nets: readonly string[]): string {
  return nets.length === 1 ? `net ${nets[0]}` : `nets ${listed(nets, '')}`;
}

function listed(names: readonly string[], none: string): string {
  if (names.length === 0) return none;
  const shown = names.slice(0, MOST_LISTED).join(', ');
  return names.length > MOST_LISTED ? `${shown} and ${names.length - MOST_LISTED} more` : shown;
}
