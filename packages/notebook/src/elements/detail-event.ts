import type { TraceResult } from '@two-thirds/sim/document';
import type { DetailRequest } from '../runtime/detail.ts';

/** Asks the open document for a part of a trace, computed anew. A newer question of the same asker takes the place of an older. */
export class DetailEvent extends Event {
  static readonly type = 'tt-detail';
  readonly request: DetailRequest;
  readonly asker: object;
  /** Called with the answer, undefined where it cannot be computed; not called once a newer question is asked. */
  readonly answer: (result: TraceResult | undefined) => void;

  constructor(request: DetailRequest, asker: object, answer: (result: TraceResult | undefined) => void) {
    super(DetailEvent.type, { bubbles: true, composed: true });
    this.request = request;
    this.asker = asker;
    this.answer = answer;
  }
}
