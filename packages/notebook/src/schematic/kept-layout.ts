import { type BoardLayout, type PartPlace, readyBoards } from '@two-thirds/sim/board';
import type { PartRow } from '@two-thirds/sim/document';
import { terminalNets } from '../edit/board-names.ts';
import type { Json, JsonRecord } from '../edit/json.ts';
import { endsOfNets } from './shape.ts';

/** What is still true of a ready board's layout on a circuit that was made from it, or is built like it. */
export interface KeptLayout {
  readonly layout: BoardLayout;
  /** Places by the names of the circuit's own parts. */
  readonly places: ReadonlyMap<string, PartPlace>;
}

interface Board {
  readonly layout: BoardLayout;
  readonly timer: Ends | undefined;
  readonly parts: readonly Ends[];
}

/** A part and the nets at its ends, by what they are called in both circuits: first, second, side, or a timer's pins. */
interface Ends {
  readonly name: string;
  readonly kind: string;
  readonly nets: Readonly<Record<string, string>>;
}

/** How many parts may be new before the layout is given up: the automatic one then has shorter ways. */
const MOST_NEW = 2;

const boards: readonly Board[] = [...readyBoards.values()].map(({ circuit, layout }) => {
  const parts = circuit.parts.map((part) => {
    const record = part as unknown as JsonRecord;
    return endsOf(textOf(record['name']), textOf(record['kind']), terminalNets(record));
  });
  return {
    layout,
    timer: parts.find(({ kind }) => kind === 'timer'),
    parts: parts.filter(({ kind }) => kind !== 'timer'),
  };
});

/**
 * The ready board's layout that is true of most of a circuit: at least half of the layout's parts, and half of the
 * circuit's, are joined as there, whatever their kinds and whatever the nets are called. A part of which one end was led
 * elsewhere keeps its place, one of which both were is new.
 */
export function keptLayout(rows: readonly PartRow[]): KeptLayout | undefined {
  const timers = rows.filter(({ kind }) => kind === 'timer');
  const [timer] = timers;
  if (timer === undefined || timers.length > 1) return undefined;
  const pins = endsOf(timer.name, timer.kind, timer.nets);
  const parts = rows
    .filter(({ kind }) => kind !== 'timer')
    .map(({ name, kind, nets }) => endsOf(name, kind, nets))
    .filter(({ nets }) => nets['first'] !== undefined);
  const found = boards.map((board) => compare(board, pins, parts));
  return found.reduce<Comparison | undefined>((best, each) => {
    const isTrue = 2 * each.joinedAlike >= Math.max(Object.keys(each.kept.layout.parts).length, parts.length);
    if (!isTrue || parts.length - each.kept.places.size > MOST_NEW) return best;
    return best === undefined || each.joinedAlike > best.joinedAlike ? each : best;
  }, undefined)?.kept;
}

interface Comparison {
  readonly kept: KeptLayout;
  /** How many parts have all their ends where the layout has them. */
  readonly joinedAlike: number;
}

function compare({ layout, timer, parts: laidOut }: Board, pins: Ends, parts: readonly Ends[]): Comparison {
  const byName = new Map(parts.map((part) => [part.name, part]));
  const known = pairs(laidOut, byName);
  const all = [...(timer === undefined ? [] : [{ before: timer, now: pins }]), ...known];
  const meaning = netsMeant(all);
  const places = new Map<string, PartPlace>();
  let joinedAlike = 0;
  for (const { before, now } of known) {
    const place = layout.parts[before.name];
    // What one part alone says of a net is no reason to keep that part's place.
    const others = netsMeant(all.filter((each) => each.before !== before));
    const [meant, alone] = [endsMeant(before, meaning), endsMeant(before, others)];
    const found = [now.nets['first'], now.nets['second']] as const;
    const [straight, turned] = [matches(meant, found), matches([...meant].reverse(), found)];
    if (place === undefined || Math.max(matches(alone, found), matches([...alone].reverse(), found)) === 0) continue;
    places.set(now.name, turned > straight ? turnedPlace(place) : place);
    if (Math.max(straight, turned) === 2) joinedAlike += 1;
  }
  // A part under another name that is joined as one of the layout was.
  for (const before of laidOut.filter(({ name }) => !byName.has(name))) {
    const [first, second] = endsMeant(before, meaning);
    const now = parts.find(
      ({ name, kind, nets }) =>
        !places.has(name) && kind === before.kind && nets['first'] === first && nets['second'] === second,
    );
    const place = layout.parts[before.name];
    if (now === undefined || place === undefined) continue;
    places.set(now.name, place);
    joinedAlike += 1;
  }
  return { kept: { layout, places }, joinedAlike };
}

/** The nets that the ends of a part would lie on. */
function endsMeant({ nets }: Ends, meaning: ReadonlyMap<string, string>): (string | undefined)[] {
  return [nets['first'], nets['second']].map((net) => (net === undefined ? undefined : (meaning.get(net) ?? '')));
}

function pairs(laidOut: readonly Ends[], byName: ReadonlyMap<string, Ends>): { before: Ends; now: Ends }[] {
  return laidOut.flatMap((before) => {
    const now = byName.get(before.name);
    return now === undefined ? [] : [{ before, now }];
  });
}

/** What the nets of the ready board are called in the circuit, as most of the ends say. */
function netsMeant(all: readonly { readonly before: Ends; readonly now: Ends }[]): Map<string, string> {
  const votes = new Map<string, Map<string, number>>();
  for (const { before, now } of all) {
    for (const [end, net] of Object.entries(before.nets)) {
      const other = now.nets[end];
      if (other === undefined) continue;
      const counts = votes.get(net) ?? new Map<string, number>();
      counts.set(other, (counts.get(other) ?? 0) + 1);
      votes.set(net, counts);
    }
  }
  return new Map(
    [...votes].map(([net, counts]) => [net, [...counts].reduce((a, b) => (b[1] > a[1] ? b : a))[0]] as const),
  );
}

/** How many ends are as meant; an end in the open, as a finger has it, is as meant where both are in the open. */
function matches(meant: readonly (string | undefined)[], found: readonly (string | undefined)[]): number {
  return meant.filter((net, index) => net === found[index]).length;
}

const opposite = { up: 'down', down: 'up', left: 'right', right: 'left' } as const;

function turnedPlace(place: PartPlace): PartPlace {
  return { ...place, first: opposite[place.first ?? 'up'] };
}

function textOf(value: Json | undefined): string {
  return typeof value === 'string' ? value : '';
}

function endsOf(name: string, kind: string, nets: Readonly<Record<string, string>>): Ends {
  if (kind === 'timer') return { name, kind, nets };
  const { first, second, side } = endsOfNets(nets);
  const found = { first, second, side };
  return {
    name,
    kind,
    nets: Object.fromEntries(
      Object.entries(found).filter((entry): entry is [string, string] => entry[1] !== undefined),
    ),
  };
}
