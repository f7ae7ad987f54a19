import type { CellResult } from '@two-thirds/sim/document';
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import { takenBack } from '../edit/what-if.ts';
import type { AskedOfBoard } from '../edit/what-if-mark.ts';
import { batches } from '../runtime/batches.ts';
import { type CellStates, stateOf } from '../runtime/cell-state.ts';
import { cellsOf } from '../runtime/cells.ts';
import { COMPARED_KINDS, compared } from '../runtime/compared.ts';
import type { Comparison } from '../runtime/comparison.ts';
import { staleCells } from '../runtime/dependence.ts';
import { SimulationClient, type StartWorker } from '../worker/client.ts';

/** Traces are not compared; a cell that is asked for by mistake gets the fewest columns. */
const COLUMNS = 2;

/**
 * While something is asked of a board ("what if"), computes the same page without it beside it, in a worker of its own,
 * so that every changed number can be told against the one it was: also while knobs are turned.
 */
export class WhatIfController implements ReactiveController {
  private readonly client: SimulationClient;
  private document: Json | undefined;
  private asked: readonly AskedOfBoard[] = [];
  private base: Json | undefined;
  private text = '';
  private ids: readonly string[] = [];
  /** Whether what is computed is asked for the second time, after a worker was lost. */
  private isAskedAgain = false;
  private readonly results = new Map<string, CellResult>();

  /** @param changed is told when there is something new to tell. */
  constructor(host: ReactiveControllerHost, startWorker: StartWorker, changed: () => void) {
    host.addController(this);
    this.client = new SimulationClient(startWorker, {
      result: (id, result, newest) => {
        if (!newest) return;
        this.results.set(id, result);
        changed();
      },
      progress: () => undefined,
      failed: () => this.fail(),
      settled: () => undefined,
    });
  }

  /** Part of lit's controller contract: an element that leaves the page stops its work. */
  hostDisconnected(): void {
    this.clear();
  }

  /** Tells what the document is and what is asked of its boards. */
  show(document: Json, asked: readonly AskedOfBoard[]): void {
    if (asked.length === 0) {
      if (this.asked.length > 0) this.clear();
      return;
    }
    if (document === this.document) return;
    this.document = document;
    this.asked = asked;
    this.base = takenBack(document, asked);
    const cells = cellsOf(document).filter(({ kind }) => COMPARED_KINDS.has(kind));
    const stale = new Set(staleCells(this.base, document));
    const ids = cells.map(({ id }) => id).filter((id) => stale.has(id));
    const text = JSON.stringify(this.base);
    if (text === this.text && ids.every((id) => this.ids.includes(id))) return;
    this.ids = ids;
    this.text = text;
    this.isAskedAgain = false;
    this.compute(this.base);
  }

  /** What a cell tells against the page without what is asked; undefined where nothing is, or not yet. */
  of(id: string, states: CellStates): Comparison | undefined {
    const before = this.results.get(id);
    const { shown, fault, phase } = stateOf(states, id);
    if (before === undefined || shown === undefined || fault !== undefined || phase !== 'current') return undefined;
    return compared(id, shown, before);
  }

  private compute(base: Json): void {
    this.results.clear();
    this.client.run({ text: this.text, batches: batches(base, this.ids), columns: COLUMNS });
  }

  /** A lost worker is replaced once; what cannot be computed at all waits for a change, and the page itself says why. */
  private fail(): void {
    if (this.base !== undefined && !this.isAskedAgain) {
      this.isAskedAgain = true;
      this.compute(this.base);
      return;
    }
    this.results.clear();
    this.text = '';
  }

  private clear(): void {
    this.client.stop();
    this.results.clear();
    this.asked = [];
    this.document = undefined;
    this.base = undefined;
    this.text = '';
    this.ids = [];
  }
}
