import type { TraceResult } from '@two-thirds/sim/document';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { DetailEvent } from '../elements/detail-event.ts';
import type { DetailRequest } from '../runtime/detail.ts';

/** Keeps an element supplied with one part of a trace, computed anew whenever what it asks for changes. */
export class DetailController implements ReactiveController {
  /** The answer to the present question, once there is one. */
  answer: TraceResult | undefined;
  /** Whether there is a question that waits for its answer. */
  isWaiting = false;
  private readonly host: ReactiveControllerHost & EventTarget;
  private question: { readonly trace: TraceResult; readonly signature: string } | undefined;

  constructor(host: ReactiveControllerHost & EventTarget) {
    this.host = host;
    host.addController(this);
  }

  /** Part of lit's controller contract: an element that comes back asks again. */
  hostDisconnected(): void {
    this.question = undefined;
  }

  /**
   * Asks, unless the same was asked before. The answer to come is drawn by an update of its own.
   *
   * @param trace what the question is about: once it is computed from new values, the old answer is void.
   * @param request nothing where nothing is wanted.
   * @param when `painted`: the question is sent once what changes now is painted; for what may come a moment later.
   */
  ask(trace: TraceResult | undefined, request: DetailRequest | undefined, when: 'now' | 'painted' = 'now'): void {
    if (trace === undefined || request === undefined) {
      this.question = undefined;
      this.settle(undefined, false);
      return;
    }
    const signature = JSON.stringify(request);
    if (this.question?.trace === trace && this.question.signature === signature) return;
    const question = { trace, signature };
    this.question = question;
    this.settle(undefined, true);
    const answer = (result: TraceResult | undefined): void => {
      if (this.question === question) this.settle(result, false);
    };
    const send = (): void => {
      if (this.question === question) this.host.dispatchEvent(new DetailEvent(request, this, answer));
    };
    if (when === 'now') send();
    else requestAnimationFrame(() => setTimeout(send));
  }

  /** Drops the answer: what it was about is computed anew. To be called in `willUpdate`, before it is drawn. */
  forget(): void {
    this.answer = undefined;
  }

  private settle(answer: TraceResult | undefined, isWaiting: boolean): void {
    if (this.answer === answer && this.isWaiting === isWaiting) return;
    this.answer = answer;
    this.isWaiting = isWaiting;
    this.host.requestUpdate();
  }
}
