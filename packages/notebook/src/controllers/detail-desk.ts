import type { TraceResult } from '@two-thirds/sim/document';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import { DetailEvent } from '../elements/detail-event.ts';
import { DETAIL_CELL, detailDocument } from '../runtime/detail.ts';
import { SimulationClient, type StartWorker } from '../worker/client.ts';

/** Answers that are kept for others who ask the same of the same document. */
const KEPT = 8;

/**
 * Computes the parts of traces that elements below its host ask for, in a worker of its own, so that a long run of the
 * page does not keep a zoom waiting. One question at a time; of each asker, the newest.
 */
export class DetailDesk implements ReactiveController {
  private readonly host: ReactiveControllerHost & EventTarget;
  private readonly document: () => Json | undefined;
  private readonly client: SimulationClient;
  private readonly queue = new Map<object, DetailEvent>();
  private current: DetailEvent | undefined;
  private readonly answers = new Map<string, TraceResult>();
  /** What the answers were computed from. */
  private computedFrom: Json | undefined;

  /** @param document gives the document as it is now. */
  constructor(host: ReactiveControllerHost & EventTarget, startWorker: StartWorker, document: () => Json | undefined) {
    this.host = host;
    this.document = document;
    const end = (): void => {
      this.current = undefined;
      this.next();
    };
    this.client = new SimulationClient(startWorker, {
      result: (_id, result, newest) => {
        if (!newest || this.current === undefined) return;
        const trace = result.ok && result.kind === 'trace' ? result : undefined;
        if (trace !== undefined) this.keep(this.current, trace);
        this.current.answer(trace);
      },
      progress: () => undefined,
      failed: () => {
        this.current?.answer(undefined);
        end();
      },
      settled: end,
    });
  }

  /** Part of lit's controller contract. */
  hostConnected(): void {
    this.host.addEventListener(DetailEvent.type, this.take);
  }

  /** Part of lit's controller contract: an element that leaves the page stops its work. */
  hostDisconnected(): void {
    this.host.removeEventListener(DetailEvent.type, this.take);
    this.client.stop();
    this.queue.clear();
    this.current = undefined;
  }

  private readonly take = (event: Event): void => {
    if (!(event instanceof DetailEvent)) return;
    event.stopPropagation();
    if (this.current?.asker === event.asker) this.start(event);
    else {
      this.queue.set(event.asker, event);
      if (this.current === undefined) this.next();
    }
  };

  private next(): void {
    for (const [asker, event] of this.queue) {
      this.queue.delete(asker);
      this.start(event);
      return;
    }
  }

  private start(event: DetailEvent): void {
    const document = this.document();
    if (document === undefined) return;
    if (document !== this.computedFrom) this.answers.clear();
    this.computedFrom = document;
    const known = this.answers.get(JSON.stringify(event.request));
    if (known !== undefined && this.current === undefined) {
      event.answer(known);
      this.next();
      return;
    }
    this.current = event;
    const { columns, instants } = event.request;
    const text = JSON.stringify(detailDocument(document, event.request));
    this.client.run({ text, batches: [[DETAIL_CELL]], columns, instants });
  }

  private keep({ request }: DetailEvent, result: TraceResult): void {
    this.answers.set(JSON.stringify(request), result);
    for (const key of this.answers.keys()) if (this.answers.size > KEPT) this.answers.delete(key);
  }
}
