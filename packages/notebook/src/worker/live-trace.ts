import {
  contactObserver,
  ContactState,
  type ContactWatch,
  type Envelope,
  envelopeObserver,
  type Observer,
  readContactName,
  readSignalName,
  type SignalTable,
} from '@two-thirds/sim/trace';
import type { TraceSlice, TraceWish } from '../runtime/live-protocol.ts';
import type { LiveBoard } from './live-board.ts';

/** Nothing is drawn in more columns than this at once: what was longer ago is out of sight. */
const MOST_COLUMNS = 4000;

/** A contact of the circuit: how it is told, and how it stands. */
interface FollowedContact {
  readonly watch: ContactWatch;
  readonly state: ContactState;
}

/** A contact by its name in the circuit, and how it is told. */
type NamedWatch = readonly [name: string, watch: ContactWatch];

/** The contacts of a circuit, by name. */
type Contacts = ReadonlyMap<string, FollowedContact>;

/** What sums up a slice: its signals together, its contacts one by one, each with the state it takes along. */
interface SliceWatch {
  readonly first: number;
  readonly show: readonly string[];
  readonly signals: ReturnType<typeof envelopeObserver>;
  readonly contacts: ReadonlyMap<string, ReturnType<typeof contactObserver>>;
}

/**
 * Sums up the signals and contacts of a live run in columns, slice by slice. Columns lie at whole multiples of their
 * length, so that those of one slice go on where those of the last one ended. Contacts are followed throughout.
 */
export class LiveTrace implements Observer {
  /** Part of the observer's contract. */
  readonly ignoresPieces = true;
  private readonly board: LiveBoard;
  private readonly watches: readonly NamedWatch[];
  private contacts: Contacts;
  private table: SignalTable | undefined;
  private slice: SliceWatch | undefined;

  /**
   * @param board whose own signals are shown, by its own names.
   * @param watches the contacts of its circuit.
   */
  constructor(board: LiveBoard, watches: readonly NamedWatch[]) {
    this.board = board;
    this.watches = watches;
    this.contacts = atRest(watches);
  }

  /** Part of the observer's contract. */
  begin(table: SignalTable): void {
    this.table = table;
    this.slice = undefined;
  }

  /** Part of the observer's contract. */
  segment(segment: Parameters<NonNullable<Observer['segment']>>[0]): void {
    this.slice?.signals.segment?.(segment);
    for (const contact of this.slice?.contacts.values() ?? []) contact.segment?.(segment);
  }

  /** Part of the observer's contract. */
  event(event: Parameters<NonNullable<Observer['event']>>[0]): void {
    for (const [name, { state }] of this.contacts) {
      const shown = this.slice?.contacts.get(name);
      if (shown === undefined) state.event(event);
      else shown.event?.(event);
    }
  }

  /** How the contacts stand, to come back to. */
  standing(): Contacts {
    return new Map([...this.contacts].map(([name, { watch, state }]) => [name, { watch, state: state.copy() }]));
  }

  /** The run goes on from where its contacts stood so; without it, from where nothing is worked. */
  standAt(contacts: Contacts = atRest(this.watches)): void {
    this.contacts = contacts;
    this.slice = undefined;
  }

  /** Begins a slice (s); signals that the board does not have make it one of which nothing is told. */
  open(wish: TraceWish | undefined, from: number, until: number): void {
    const { table } = this;
    this.slice = undefined;
    if (wish === undefined || table === undefined || !(until > from)) return;
    const last = Math.floor(until / wish.column);
    const first = Math.max(columnAt(from, wish.column), last - MOST_COLUMNS + 1);
    const window = { from: first * wish.column, until: (last + 1) * wish.column, columns: last - first + 1 };
    const names = wish.show.map((show) => this.contactName(show));
    const contacts = new Map<string, ReturnType<typeof contactObserver>>();
    for (const name of names) {
      const contact = name === undefined ? undefined : this.contacts.get(name);
      if (name === undefined) continue;
      if (contact === undefined) return;
      contacts.set(name, contactObserver(contact.watch, window, 0, contact.state));
    }
    const signals = envelopeObserver(
      wish.show.filter((_, index) => names[index] === undefined).map((show) => this.inCircuit(show)),
      window,
    );
    try {
      signals.begin?.(table);
    } catch (error) {
      if (error instanceof RangeError) return;
      throw error;
    }
    this.slice = { first, show: wish.show, signals, contacts };
  }

  /** Ends the slice: what its columns hold. */
  close(): TraceSlice | undefined {
    const { slice } = this;
    this.slice = undefined;
    if (slice === undefined) return undefined;
    const shapes = slice.signals.result();
    let next = 0;
    const lanes = slice.show.map((show): Envelope => {
      const name = this.contactName(show);
      const contact = name === undefined ? undefined : slice.contacts.get(name);
      const lane = contact === undefined ? shapes[next++] : contact.result().envelope;
      return lane ?? { first: [], last: [], low: [], high: [] };
    });
    return { first: slice.first, lanes };
  }

  /** The name that a contact has in the circuit, where a contact is shown. */
  private contactName(show: string): string | undefined {
    const asked = readContactName(show);
    if (asked === undefined) return undefined;
    const link = [...this.board.links].find(([, name]) => name === asked);
    return link?.[0] ?? this.board.prefix + asked;
  }

  private inCircuit(show: string): ReturnType<typeof readSignalName> {
    const name = readSignalName(show);
    const { prefix } = this.board;
    return 'net' in name ? { net: prefix + name.net } : { current: prefix + name.current };
  }
}

function atRest(watches: readonly NamedWatch[]): Contacts {
  return new Map(watches.map(([name, watch]) => [name, { watch, state: new ContactState(watch) }]));
}

/** The column that begins at a time or holds it; a border that is missed by rounding alone is the border. */
function columnAt(time: number, column: number): number {
  const at = time / column;
  return Math.floor(at + Math.max(1e-9, 8 * Number.EPSILON * at));
}
