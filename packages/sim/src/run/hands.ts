import { type Bounce, type ContactChange, reboundsByHand } from '../device/bounce.ts';

/** What a hand has done to one contact, as plain data. */
export interface HandStanding {
  readonly part: string;
  /** How many changes it made. */
  readonly changes: number;
  /** Whether it holds the contact in its other position. */
  readonly pressed: boolean;
  /** Returns of the contact that are still to come, in order. */
  readonly waiting: readonly ContactChange[];
}

/** A return of a contact that is due. */
export interface Rebound extends ContactChange {
  readonly part: string;
}

/**
 * What hands have done to contacts that bounce, and the returns that follow from it. The same changes at the same times
 * give the same returns: each contact draws them from its own seed, one change after the other.
 */
export class Hands {
  private readonly contacts = new Map<string, HandStanding>();

  /** Hands that have done nothing yet, or what is given. */
  constructor(from: readonly HandStanding[] = []) {
    for (const contact of from) this.contacts.set(contact.part, contact);
  }

  /**
   * A hand changes a contact. What the change before has still to come is over, since the contact moves now. A contact
   * that is held already does not move, and so does not bounce.
   */
  change(part: string, change: ContactChange, bounce: Bounce | undefined): void {
    const { changes, pressed } = this.contacts.get(part) ?? { changes: 0, pressed: false };
    if (pressed === change.pressed) return;
    const waiting = bounce === undefined ? [] : reboundsByHand(change, changes, bounce);
    this.contacts.set(part, { part, changes: changes + 1, pressed: change.pressed, waiting });
  }

  /** The return that is due first; undefined where none is to come. */
  get next(): Rebound | undefined {
    let first: Rebound | undefined;
    for (const { part, waiting } of this.contacts.values()) {
      const [change] = waiting;
      if (change !== undefined && (first === undefined || change.at < first.at)) first = { part, ...change };
    }
    return first;
  }

  /** Takes the next return of a contact off. */
  take(part: string): void {
    const contact = this.contacts.get(part);
    if (contact !== undefined) this.contacts.set(part, { ...contact, waiting: contact.waiting.slice(1) });
  }

  /** All of it as plain data. */
  standing(): readonly HandStanding[] {
    return [...this.contacts.values()];
  }
}
