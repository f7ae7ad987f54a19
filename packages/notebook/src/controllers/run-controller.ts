import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import {
  arrived,
  type CellStates,
  isFromBefore,
  outdated,
  progressed,
  stateOf,
  stopped,
  waiting,
} from '../runtime/cell-state.ts';
import { batches } from '../runtime/batches.ts';
import { cellsOf } from '../runtime/cells.ts';
import { staleCells } from '../runtime/dependence.ts';
import { SimulationClient, type StartWorker } from '../worker/client.ts';
import { DetailDesk } from './detail-desk.ts';

/** Columns of a trace lane: about two for every pixel that a wide page gives to a trace. */
const COLUMNS = 1200;
/** How long a computation may take before the page speaks of it (ms): a blink. */
const BLINK = 250;

/**
 * Keeps the results of a document's cells up to date: compares every new state of the document with the one before,
 * computes what depends on the change, and keeps the last good results until better ones come.
 */
export class RunController implements ReactiveController {
  /** The states of all cells. */
  states: CellStates = {};
  /** Whether the present computation has taken longer than a blink. */
  takesLong = false;
  /** Why nothing could be computed, if that happened. */
  failure: string | undefined;

  private document: Json | undefined;
  private blink: ReturnType<typeof setTimeout> | undefined;
  private drawing: number | undefined;
  private readonly host: ReactiveControllerHost;
  private readonly client: SimulationClient;

  constructor(host: ReactiveControllerHost & EventTarget, startWorker: StartWorker) {
    this.host = host;
    host.addController(this);
    host.addController(new DetailDesk(host, startWorker, () => this.document));
    this.client = new SimulationClient(startWorker, {
      result: (id, result, newest) => {
        this.failure = undefined;
        this.change(arrived(this.states, id, result, newest));
      },
      progress: (id, share) => {
        this.states = progressed(this.states, id, share);
        // Every cell of a batch reports by itself; the page is drawn once for all of them.
        this.drawing ??= requestAnimationFrame(() => {
          this.drawing = undefined;
          this.host.requestUpdate();
        });
      },
      failed: (message) => {
        this.failure = message;
        this.endBlink();
        this.change(stopped(this.states));
      },
      settled: () => {
        this.endBlink();
        this.host.requestUpdate();
      },
    });
  }

  /** Part of lit's controller contract: an element that leaves the page stops its work. */
  hostDisconnected(): void {
    this.client.stop();
    this.endBlink();
  }

  /** Tells that the document is now this one. What depends on the difference is computed again. */
  show(document: Json): void {
    if (document === this.document) return;
    const stale = staleCells(this.document, document);
    this.document = document;
    this.states = outdated(
      this.states,
      stale,
      cellsOf(document).map((cell) => cell.id),
    );
    if (stale.length > 0) this.run();
  }

  /** Forgets all results: another document is opened. */
  clear(): void {
    this.client.stop();
    this.endBlink();
    this.document = undefined;
    this.states = {};
    this.failure = undefined;
  }

  /** Stops what is being computed; the last good results stay. */
  stop(): void {
    this.client.stop();
    this.endBlink();
    this.change(stopped(this.states));
  }

  /** Computes again what was stopped. */
  again(): void {
    const halted = Object.keys(this.states).filter((id) => stateOf(this.states, id).phase === 'stopped');
    this.states = outdated(this.states, halted, Object.keys(this.states));
    this.run();
  }

  /** Whether a cell shows results of earlier values, and it is time to say so. */
  saysFromBefore(id: string): boolean {
    const state = stateOf(this.states, id);
    return isFromBefore(state) && (state.phase !== 'waiting' || this.takesLong);
  }

  private run(): void {
    if (this.document === undefined) return;
    this.blink ??= setTimeout(() => {
      this.takesLong = true;
      this.host.requestUpdate();
    }, BLINK);
    const todo = batches(this.document, waiting(this.states));
    this.client.run({ text: JSON.stringify(this.document), batches: todo, columns: COLUMNS });
    this.host.requestUpdate();
  }

  private change(states: CellStates): void {
    this.states = states;
    this.host.requestUpdate();
  }

  private endBlink(): void {
    clearTimeout(this.blink);
    this.blink = undefined;
    this.takesLong = false;
  }
}
