import type { CellResult } from '@two-thirds/sim/document';
import { isSameJson, type Json } from '../edit/json.ts';
import { batches } from '../runtime/batches.ts';
import { arrived, type CellStates, stateOf } from '../runtime/cell-state.ts';
import { staleCells } from '../runtime/dependence.ts';
import { SimulationClient, type StartWorker } from '../worker/client.ts';

/** A state of the document that may come, and what its cells will show then. */
interface Turn {
  readonly document: Json;
  readonly results: Map<string, CellResult>;
}

/** One that is to be computed, for these cells. */
interface AskedTurn extends Turn {
  readonly ids: readonly string[];
}

/** Turns that are kept: the ways forth and back, and what was left last. */
const KEPT = 4;
/** Where the page itself waits longer for its results than this, nothing is foreseen (ms): a blink. */
const BLINK = 250;
/** Longest time that is spent on one turn, the start of the worker included (ms). */
const LONGEST = 2000;

/**
 * Results of where a knob that is being turned may stand next, computed ahead in a worker of their own, so that the next
 * turn finds its trace ready. Where the knob comes from is known as well. Results follow from the document alone, so it
 * does not matter when they were computed.
 */
export class ForeseenTurns {
  private readonly client: SimulationClient;
  private readonly columns: number;
  private readonly isAwaited: (id: string) => boolean;
  private known: readonly Turn[] = [];
  private queue: readonly AskedTurn[] = [];
  private current: Turn | undefined;
  private limit: ReturnType<typeof setTimeout> | undefined;
  /** Whether the page waited for its last results for no longer than a blink. */
  isQuick = false;

  /**
   * @param columns columns of a trace lane.
   * @param isAwaited whether somebody will look at a cell at once.
   */
  constructor(startWorker: StartWorker, columns: number, isAwaited: (id: string) => boolean) {
    this.columns = columns;
    this.isAwaited = isAwaited;
    this.client = new SimulationClient(startWorker, {
      result: (id, result) => this.current?.results.set(id, result),
      progress: () => undefined,
      failed: () => this.stop(),
      settled: () => {
        const { current } = this;
        this.end();
        if (current !== undefined) this.remember(current);
        this.next();
      },
    });
  }

  /** Tells how long the page waited for a result (ms). */
  waited(time: number): void {
    this.isQuick = time <= BLINK;
  }

  /** Keeps what cells of a document show that is about to change: it may come back to where it was. */
  leave(document: Json, states: CellStates, stale: readonly string[]): void {
    const shown = stale.flatMap((id): [string, CellResult][] => {
      const { shown: result, fault, phase } = stateOf(states, id);
      const isWhole = result !== undefined && fault === undefined && phase === 'current';
      return isWhole && this.isAwaited(id) ? [[id, result]] : [];
    });
    if (shown.length > 0) this.remember({ document, results: new Map([...this.of(document), ...shown]) });
  }

  /** The states once what is known of a document is there; the very same ones where nothing is. */
  enter(document: Json, states: CellStates, stale: readonly string[]): CellStates {
    const known = this.of(document);
    return stale.reduce((now, id) => {
      const result = known.get(id);
      return result === undefined ? now : arrived(now, id, result, true);
    }, states);
  }

  /** Computes what may come after a document as far as it is not known, instead of what was foreseen before. */
  foresee(document: Json, turns: readonly Json[]): void {
    if (!this.isQuick) return;
    this.queue = turns.map((next) => {
      const known = this.of(next);
      const ids = staleCells(document, next).filter((id) => this.isAwaited(id) && !known.has(id));
      return { document: next, results: new Map(known), ids };
    });
    if (this.current === undefined) this.next();
  }

  /** Ends what is being foreseen; nothing more is until the page has been quick again. */
  stop(): void {
    this.client.stop();
    this.end();
    this.queue = [];
    this.isQuick = false;
  }

  /** Forgets everything: another document is opened. */
  clear(): void {
    this.stop();
    this.known = [];
  }

  /** What is known of the cells of a document. */
  private of(document: Json): ReadonlyMap<string, CellResult> {
    return this.known.find((turn) => isSameJson(turn.document, document))?.results ?? new Map<string, CellResult>();
  }

  private next(): void {
    const [turn, ...others] = this.queue;
    if (turn === undefined) return;
    this.queue = others;
    if (turn.ids.length === 0) {
      this.next();
      return;
    }
    this.current = turn;
    this.limit = setTimeout(() => this.stop(), LONGEST);
    const { document, ids } = turn;
    this.client.run({ text: JSON.stringify(document), batches: batches(document, ids), columns: this.columns });
  }

  private end(): void {
    clearTimeout(this.limit);
    this.current = undefined;
  }

  private remember(turn: Turn): void {
    const others = this.known.filter(({ document }) => !isSameJson(document, turn.document));
    this.known = [turn, ...others].slice(0, KEPT);
  }
}
