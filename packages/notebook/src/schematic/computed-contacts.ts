import type { TraceResult } from '@two-thirds/sim/document';
import type { Contact } from './contacts.ts';

/**
 * Which contacts a trace was computed with. Once one of them has been changed, what the trace says of contacts is of
 * the past: a contact that was just opened must not close again on the screen while its new trace is on the way.
 */
export class ComputedContacts {
  private readonly known = new WeakMap<TraceResult, string>();

  /**
   * Whether a trace was computed with these contacts. A trace is taken to be so when it is first met: before the next
   * edit, that is, for an edit never waits for a result.
   */
  areOf(trace: TraceResult, contacts: readonly Contact[]): boolean {
    const now = JSON.stringify(contacts);
    const then = this.known.get(trace);
    if (then === undefined) this.known.set(trace, now);
    return then === undefined || then === now;
  }
}
