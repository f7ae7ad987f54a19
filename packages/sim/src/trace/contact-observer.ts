import { ColumnEnvelope, type Envelope } from './column-envelope.ts';
import type { EnvelopeWindow } from './envelope-observer.ts';
import type { RunEvent } from './event.ts';
import type { Observer } from './observer.ts';
import { SignalSum } from './signal-sum.ts';

/** A contact of a part, whose state follows from the part's events. */
export interface ContactWatch {
  readonly part: string;
  /**
   * What closes it: `hand`, the events `close` and `open` of its part; `pulled` or `dropped`, the armature of a relay at its
   * winding or away from it, where `close` and `open` are bounces.
   */
  readonly by: 'hand' | 'pulled' | 'dropped';
  /** Whether it conducts when the run begins. */
  readonly closed: boolean;
}

/** A contact that has opened or closed, at a time in seconds. */
export interface ContactEdge {
  readonly time: number;
  readonly to: 'closed' | 'open';
}

/** Follows whether a contact conducts, event by event. */
export class ContactState {
  readonly #watch: ContactWatch;
  /** For a relay: where its armature is, and whether the contact there has bounced off. */
  #pulled = false;
  #touching = true;
  #closed: boolean;

  constructor(watch: ContactWatch) {
    this.#watch = watch;
    this.#closed = watch.closed;
  }

  /** The same contact, to go another way from here. */
  copy(): ContactState {
    const copy = new ContactState(this.#watch);
    copy.#pulled = this.#pulled;
    copy.#touching = this.#touching;
    copy.#closed = this.#closed;
    return copy;
  }

  /** Whether it conducts. */
  get closed(): boolean {
    return this.#closed;
  }

  /** Takes in an event of the run. */
  event({ part, kind }: Pick<RunEvent, 'part' | 'kind'>): void {
    const { by, part: own } = this.#watch;
    if (part !== own) return;
    if (kind === 'close' || kind === 'open') this.#touching = kind === 'close';
    else if (kind === 'pulledIn' || kind === 'droppedOut') {
      this.#pulled = kind === 'pulledIn';
      this.#touching = true;
    } else return;
    this.#closed = this.#touching && (by === 'hand' || this.#pulled === (by === 'pulled'));
  }
}

const OPEN = new SignalSum().standAt(0);
const CLOSED = new SignalSum().standAt(1);

/**
 * Watches whether a contact conducts: when it closes and opens within a window, and its course in columns, 1 where it
 * conducts and 0 where not.
 *
 * @param most how many edges are listed; the rest is in the columns alone.
 * @param contact the contact as it is when watching begins, where that is not the start of the run; it is taken along.
 */
export function contactObserver(
  watch: ContactWatch,
  window: EnvelopeWindow,
  most: number,
  contact = new ContactState(watch),
): Observer & {
  /** Columns, and the edges in order; `cut` where there are more of them than are listed. */
  result(): { readonly envelope: Envelope; readonly edges: readonly ContactEdge[]; readonly cut: boolean };
} {
  const { from, until, columns } = window;
  const course = new ColumnEnvelope(from, until, columns);
  const edges: ContactEdge[] = [];
  let told = contact.closed;
  let cut = false;
  let now = 0;
  /** Of all that a contact does at an instant, what is left of it afterwards is its edge. */
  const tell = (): void => {
    if (contact.closed === told) return;
    told = contact.closed;
    if (now < from || now > until) return;
    if (edges.length < most) edges.push({ time: now, to: told ? 'closed' : 'open' });
    else cut = true;
  };
  return {
    // Every column of the window has its own stretch of the run; a whole period leaves the contact as it was.
    periods: {
      begin: (at) => (at < from ? from : at <= until ? 0 : Infinity),
      repeat: () => {},
    },
    event(event) {
      if (event.time !== now) tell();
      now = event.time;
      contact.event(event);
    },
    segment(segment) {
      tell();
      const { start, length } = segment;
      if (start + length >= from && start <= until) course.add(contact.closed ? CLOSED : OPEN, segment);
    },
    end: tell,
    result: () => ({ envelope: course.result(), edges, cut }),
  };
}
