import type { Lane, PartRow, TraceResult } from '@two-thirds/sim/document';
import { readContactName } from '@two-thirds/sim/trace';
import { isList, type Json } from '../edit/json.ts';
import { boardOf, cellsOf } from './cells.ts';
import type { LiveState } from './live-protocol.ts';
import type { RollingTrace } from './rolling-trace.ts';

/** Signals that are drawn while a board runs by hand; more would be too small beside the drawing. */
const MOST = 4;
/** Contacts that are drawn beside them: their lanes are low. */
const MOST_CONTACTS = 3;

/** Between the 0 of a contact that is open and the 1 of one that conducts. */
const CONTACT_LEVEL = 0.5;

/**
 * What is drawn of a board while it runs by hand: what the first trace of it on the page shows, else what its timers
 * watch and give, with the contacts of its buttons and relays.
 */
export function liveSignals(document: Json, board: string, parts: readonly PartRow[]): string[] {
  const trace = cellsOf(document).find((cell) => cell.kind === 'trace' && boardOf(cell) === board);
  const show = trace?.data['show'];
  const asked = (isList(show) ? show : []).flatMap((each) => (typeof each === 'string' ? [each] : []));
  if (asked.length > 0) return fitting([...new Set(asked)]);
  const timers = parts.filter(({ kind }) => kind === 'timer');
  const watched = timers.flatMap(({ nets }) => [nets['trigger'], nets['threshold'], nets['output']]);
  const nets = new Set(watched.flatMap((net) => (net === undefined || net === 'ground' ? [] : [net])));
  return fitting([...nets, ...parts.flatMap(contactLanes)]);
}

/** As many as there is room for, in their order. */
function fitting(shown: readonly string[]): string[] {
  const isContact = (show: string): boolean => readContactName(show) !== undefined;
  const contacts = shown.filter(isContact).slice(0, MOST_CONTACTS);
  const signals = shown.filter((show) => !isContact(show)).slice(0, MOST);
  return shown.filter((show) => contacts.includes(show) || signals.includes(show));
}

/** Parts whose contacts a hand or a winding works. */
const CONTACT_KINDS: readonly string[] = ['button', 'switch', 'finger', 'relay'];

function contactLanes({ name, kind, nets }: PartRow): string[] {
  const hasContact = kind !== 'relay' || nets['common'] !== undefined;
  return CONTACT_KINDS.includes(kind) && hasContact ? [`contact(${name})`] : [];
}

/**
 * What there is of a rolling trace, as the drawing of lanes takes it; `undefined` while there is nothing.
 *
 * @param level voltage above which a net counts as high (V).
 */
export function liveTrace(
  rolling: RollingTrace,
  board: string,
  parts: readonly PartRow[],
  level: number,
  state: LiveState | undefined,
): { readonly trace: TraceResult; readonly whole: TraceResult } | undefined {
  const { filled, wish, ranges } = rolling;
  if (filled === undefined) return undefined;
  const lanes = wish.show.map((show, index): Lane => {
    const columns = filled.lanes[index] ?? { first: [], last: [], low: [], high: [] };
    if (readContactName(show) !== undefined) {
      return { ...columns, show, unit: null, role: 'contact', level: CONTACT_LEVEL, limits: [] };
    }
    const isCurrent = show.startsWith('current(');
    const isOutput = parts.some(({ kind, nets }) => kind === 'timer' && nets['output'] === show);
    return {
      ...columns,
      show,
      unit: isCurrent ? 'A' : 'V',
      role: isOutput ? 'logic' : 'analog',
      ...(isCurrent ? {} : { level }),
      limits: limitsAt(show, parts, state),
    };
  });
  const { from, until } = filled;
  const trace: TraceResult = {
    kind: 'trace',
    ok: true,
    board,
    from,
    until,
    columns: lanes[0]?.first.length ?? 0,
    lanes,
    edges: {},
    // Bars come from columns: a stretch in which a net goes up and down within every column is one grey bar.
    cut: true,
    timers: [],
    faults: [],
    cautions: [],
  };
  // Axes reach as far as the supply does, so that they stand still from the first moment on.
  const reach = lanes.map((lane, index): Lane => {
    const { low, high } = ranges[index] ?? { low: 0, high: 0 };
    if (lane.role === 'contact') return lane;
    const most = lane.level === undefined ? high : Math.max(high, 2 * level);
    return { ...lane, first: [low], last: [high], low: [low], high: [most] };
  });
  return { trace, whole: { ...trace, lanes: reach } };
}

/** The limits of the comparators that watch a net, as they are now. */
function limitsAt(net: string, parts: readonly PartRow[], state: LiveState | undefined): Lane['limits'] {
  return (state?.timers ?? []).flatMap(({ timer, threshold, trigger }) => {
    const nets = parts.find(({ name }) => name === timer)?.nets ?? {};
    const limit = (name: 'threshold limit' | 'trigger limit', value: number): Lane['limits'][number][] =>
      net === (name === 'threshold limit' ? nets['threshold'] : nets['trigger']) && Number.isFinite(value)
        ? [{ timer, name, value, moves: false }]
        : [];
    return [...limit('threshold limit', threshold.limit), ...limit('trigger limit', trigger.limit)];
  });
}
